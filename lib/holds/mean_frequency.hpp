// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "holds/phase_curves.hpp"

namespace windway {

/// Time average of the frequency over a span.
struct MeanFrequency {
  double hz = 0;
  double sd_hz = 0;
  std::vector<double> curve_hz;  ///< smoothed, a value a frame of the span
};

/// The average is that of a smoothed curve whose own wander is estimated from the data: it tends to the maximum
/// likelihood of a steady tone as the wander vanishes, and to the phase between the span's ends as it grows.
/// `room_rad2` is the variance that a room adds to the phase which the fundamental gains over the span.
MeanFrequency mean_frequency(const PhaseCurves& curves, double room_rad2);

}  // namespace windway
