// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace windway {

/// A series as a straight line and a sine of one rate.
struct SineFit {
  double middle_s = 0;
  double mean = 0, slope_per_s = 0, cosine = 0, sine = 0;  ///< about `middle_s`, in the series' unit
  double rate_hz = 0;
  double residual_squares = 0;

  double sine_at(double at_s) const;
  double at(double at_s) const { return mean + slope_per_s * (at_s - middle_s) + sine_at(at_s); }
  double depth() const;
};

/// Variance of the residuals over that of a normal prior about 0; none where 0.
struct SinePrior {
  double sine = 0;
  double slope_s2 = 0;
};

/// By least squares; `times_s` and `values` are as many, at least one.
SineFit fit_sine(std::span<const double> times_s, std::span<const double> values, double rate_hz,
                 const SinePrior& prior = {});

/// Rate of a vibrato in a series of frames: of the breath in its level, or of the pitch. Empty where most of the
/// movement is something else, where it is less deep than `least_depth` (in the series' unit), or where fewer than one
/// and a half periods of the slowest lie in it.
std::optional<double> vibrato_hz(const std::vector<double>& values, double hop_s, double least_depth);

/// The fit of this rate to the frames `first` to `last`, extended over all of the series.
std::vector<double> fitted_vibrato(const std::vector<double>& values, double hop_s, double rate_hz, std::size_t first,
                                   std::size_t last);

}  // namespace windway
