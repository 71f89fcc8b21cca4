// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

#include "measurement.hpp"
#include "report/wording/prose.hpp"

namespace windway {

// What the text says of several takes; each is empty where there is nothing of it to say.

/// "The best place for the head is 2.4 mm out (± 0.1), by 4 takes at 0, 2, 4 and 6 mm."; at a limit of the head what
/// `residuals` says is left. `measurement` has places and a compromise.
std::string best_place_line(const Measurement& measurement, const std::string& residuals);

/// "With the head 3 mm out", else "As it stands".
std::string home_place_in_words(const Measurement& measurement);

/// The legend's line about the place that the notes are told for.
Prose place_legend(const Measurement& measurement);

/// How far the law of the slide held between the places.
Prose law_line(const Measurement& measurement);

/// Whether the takes agree, and how well a note is repeated.
Prose agreement_line(const Measurement& measurement);

}  // namespace windway
