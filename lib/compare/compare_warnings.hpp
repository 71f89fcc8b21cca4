// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "compare/compare.hpp"

namespace windway {

/// True if a recording of the one is a recording of the other, byte for byte.
bool same_recording(const Measurement& before, const Measurement& after);

/// What is doubtful about a comparison. Codes: same_recording, other_instrument, other_temperature, move_contradicted,
/// move_implausible, move_too_small.
Warnings compare_warnings(const Measurement& before, const Measurement& after, const Comparison& found);

}  // namespace windway
