// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <span>

namespace windway::external_tests {

/// Frequency at which the spectrum of the whole of `samples`, seen through one Hann window, is highest within
/// `near_cents` of `near_hz`. Straight from the definition of the Fourier transform, at any frequency rather than at
/// bins; shares no code and no method with lib/.
double spectral_peak_hz(std::span<const float> samples, double rate_hz, double near_hz, double near_cents);

}  // namespace windway::external_tests
