// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "holds/mean_frequency.hpp"

namespace windway {

/// Variance that the room adds to the phase which a harmonic gains over a span, from how far the harmonics of each
/// span disagree beyond their noise, pooled over all spans; 0 where they agree. Method: R. C. Paule and J. Mandel,
/// J. Res. Natl. Bur. Stand. 87 (1982) 377 (from memory).
double room_phase_variance_rad2(const std::vector<std::vector<HarmonicGain>>& gains);

}  // namespace windway
