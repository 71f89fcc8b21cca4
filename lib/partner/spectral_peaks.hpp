// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "pitch/spectrum.hpp"

namespace windway {

/// A line of a spectrum.
struct SpectralPeak {
  double hz = 0;
  double power = 0;  ///< A^2 / 2 of a sine of amplitude A (1 = full scale)
};

/// The lines that stand clear of what is around them, ascending; empty where there is only noise.
std::vector<SpectralPeak> spectral_peaks(const SpectrumFrame& spectrum, double bin_hz);

}  // namespace windway
