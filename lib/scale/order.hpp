// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "scale/naming.hpp"
#include "scale/note_path.hpp"
#include "scale/scale_model.hpp"

namespace windway {

/// The instrument with the fingerings that the run names beside those it has.
Instrument with_fingerings(Instrument instrument, const std::vector<NoteId>& order);

/// Lays the holds of one take along the run as it was played: each note of the run has some holds in turn, or none
/// where it was not heard, and notes that the run does not name may come between them. `midi`: what each hold was taken
/// for without the run; a hold of no note of the run keeps that, and all do where no run was given. Cost: holds squared
/// times the notes of the run.
std::vector<NoteId> in_order(const HeardTake& take, const std::vector<int>& midi, double offset_cents,
                             const std::vector<NoteId>& order, const Instrument& instrument);

/// Which notes of the run were not heard (code not_heard).
std::optional<Warning> not_heard_warning(const Naming& naming, const std::vector<NoteId>& order);

/// Which notes of the scale were heard that the run does not name (code not_in_order).
std::optional<Warning> not_in_order_warning(const Naming& naming, const std::vector<NoteId>& order);

/// The notes that the run, though no order was said, plainly left out: of the key, between notes that were held, and
/// few against those that were (code not_heard).
std::optional<Warning> gap_warning(const Naming& naming, const ScaleModel& model);

}  // namespace windway
