// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "holds/pieces.hpp"

namespace windway {

/// Marks the frames between two blows of one note that a room fills with the first one's sound, and the echo of the
/// last: the tone dips, and the breath noise with it. Noise decays smoothly; a tone may by itself dip or swell as its
/// echoes meet. Where the breath is not heard, the tone alone decides.
std::vector<bool> in_dip(const FrameSeries& series);

}  // namespace windway
