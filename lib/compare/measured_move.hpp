// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "compare/compare.hpp"

namespace windway {

/// The factor by which the notes' changes differ from the predicted ones (all must be there): weighted least squares
/// through the origin. A change of warmth moves all notes alike; the head moves short air columns more than long ones.
/// Where the notes tell the two surely apart, both are fitted; else the takes are taken as equally warm, and the
/// factor's u95 allows for what that may miss.
MeasuredMove measured_move(const std::vector<NoteChange>& changes, double drawn_out_mm);

/// True if the factor lies outside least_slide_factor to most_slide_factor by more than its u95.
bool is_surely_implausible(const SlideFactor& factor);

}  // namespace windway
