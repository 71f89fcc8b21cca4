// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "slide/effort.hpp"
#include "slide/slide.hpp"

namespace windway {

/// The one change of the blowing, the same in dB for every note, that leaves the least mean cost with the head moved by
/// `slide_mm`; no further than the player's own soft and hard. A note whose answer is not known takes the median one.
/// Empty where no note's is, or where nothing is won.
std::optional<SteadyBlow> steady_blow(const std::vector<NoteBreath>& notes, const std::vector<SlideNote>& found,
                                      double slide_mm);

}  // namespace windway
