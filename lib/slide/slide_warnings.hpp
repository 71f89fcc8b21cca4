// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "slide/slide.hpp"

namespace windway {

/// What is doubtful about a compromise. `home_shift_cents`: how far the scale stands from the reference pitch before
/// the move; `left_cents`: after it (both + sharp). Codes: scale_far_off, head_position_unknown, fully_in,
/// end_of_travel, fixed_head.
Warnings slide_warnings(const Compromise& compromise, const Head& head, double a4_hz, double home_shift_cents,
                        double left_cents);

/// True for the codes that slide_warnings gives.
bool is_of_the_head(WarningCode code);

}  // namespace windway
