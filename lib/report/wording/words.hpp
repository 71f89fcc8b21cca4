// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <functional>
#include <string>
#include <vector>

#include "measurement.hpp"
#include "units/count_in_words.hpp"

namespace windway {

/// A share of the way to the softest or hardest blow: "a quarter of the way", "halfway", "all the way".
std::string share_in_words(double share);

/// "one beat in 3 s", "2 beats a second"; below one beat in 20 s "no beat that you would hear".
std::string beats_in_words(double beats_hz);

/// What the breath must do for a note: "as it is", "softer, a quarter of the way to soft", "out of reach, even blown
/// hard".
std::string breath_in_words(const MovedNote& note);

/// The same for a narrow column: "as it is", "softer, 1/4 way", "out of reach".
std::string breath_in_short(const MovedNote& note);

/// "0.9 cents sharp", "right in tune", with the places that the uncertainty deserves.
std::string deviation_in_words(double cents, double u95_cents);

/// How much, whichever way: "7.9 cents (± 0.4)", "1 cent (± 2)".
std::string size_in_words(const CentsEstimate& estimate);

/// Where the maker means notes off the temperament, a sentence: "Targets of 2 notes are as the instrument's file
/// intends: G5 8 cents flat and D7 5 cents sharp." Empty where all are on it. `spelt` gives a note's name for people.
std::string targets_in_words(double stretch_cents_per_octave, const std::vector<NoteTarget>& targets,
                             const std::function<std::string(const NoteId&)>& spelt);

/// " (meant 8.0 cents flat of the temperament)"; empty for a note that is meant on it.
std::string meant_in_words(double intended_cents);

/// With a capital first letter, where that is one of A to Z.
std::string capitalised(std::string words);

/// "D5, E5 and G5".
std::string list_in_words(const std::vector<std::string>& items);

/// "A4 = 440 Hz"; of a partner heard, "A4 = 441.3 Hz (± 0.1, as the partner plays)".
std::string a4_in_words(const MeasureSettings& settings);

/// "whistle in D from D5"
std::string instrument_in_words(const Measurement& measurement);

/// What the breath must do for the whole scale, in one or two sentences; `names` are the notes' names in order,
/// `as_said` says where the reader finds what each note needs: "as the table says".
std::string breath_over_scale(const std::vector<MovedNote>& notes, const std::vector<std::string>& names,
                              const std::string& as_said);

}  // namespace windway
