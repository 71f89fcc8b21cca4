// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <utility>

#include "measurement.hpp"
#include "report/wording/prose.hpp"

namespace windway {

/// The measurement for people: what to do with the head, the table of the notes, what is doubtful and what to do about
/// it. What to blow is written out where the table of the notes then fits `columns`, else it is in short. `under_table`
/// comes after that table.
Prose measurement_prose(const Measurement& measurement, std::size_t columns = text_columns,
                        const Prose& under_table = {});

/// What the breath must do is told only where the head's place is known.
bool shows_breath(const Measurement& measurement);
/// Whether a note's moderate figure is midway between soft and hard, which the table marks with a star.
bool any_midway(const Measurement& measurement);
/// Where no move is told, a note after it is its moderate blow once more. Of the text and of the page.
bool shows_move(const Measurement& measurement);

/// "once the head is moved, ": at which place of the head the beats are counted; empty where it is fixed.
std::string place_for_beats(const Measurement& measurement);

/// A row for each note outside the scale: "C6: not in this scale (2 holds)".
Prose rows_outside_scale(const Measurement& measurement);

/// What the columns of the notes' table mean, where it is written for so many `columns`.
Prose note_legend(const Measurement& measurement, std::size_t columns);

/// What the measurement rests on: holds and takes, targets and weights; how the pitch drifted, how far takes agree.
Prose remarks(const Measurement& measurement);

/// What is doubtful, after a gap; empty where nothing is, or where all of it is said beside the figures.
Prose warnings_prose(const Measurement& measurement);

/// The notes that the breath bends least and most; empty where the spread was measured on fewer than two.
std::optional<std::pair<const NoteBreath*, const NoteBreath*>> least_and_most_bent(const Measurement& measurement);

/// "34 cents from soft to hard"; of a note whose spread was measured.
std::string spread_in_words(const NoteBreath& note);

}  // namespace windway
