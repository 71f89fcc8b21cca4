// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "holds/phase_curves.hpp"

namespace windway {

/// Variance that the room adds to the phase which a fundamental gains over a span, from how far the harmonics of each
/// span disagree beyond their noise, pooled over all spans; 0 where they agree. Harmonic n's is taken to be n times as
/// much, and all to scatter as Student's t with 4 degrees of freedom does, scaled: echoes may turn one by whole turns.
/// (Method: the squares expected are set against those found, as R. C. Paule and J. Mandel do, J. Res. Natl. Bur.
/// Stand. 87 (1982) 377; with the weights of K. L. Lange, R. J. A. Little and J. M. G. Taylor, J. Am. Stat. Assoc. 84
/// (1989) 881; both from memory.)
double room_phase_variance_rad2(const std::vector<std::vector<HarmonicGain>>& gains);

/// Weight of each harmonic of one span against the others.
struct HarmonicTrust {
  std::vector<double> weight;  ///< by harmonic, on the phase of the fundamental; not normalised
  double variance_rad2 = 0;    ///< that the room adds to the gain of their weighted mean; more where they disagree
};

/// `room_rad2` as room_phase_variance_rad2 gives it.
HarmonicTrust harmonic_trust(const std::vector<HarmonicGain>& gains, double room_rad2);

}  // namespace windway
