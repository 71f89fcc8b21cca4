// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cmath>
#include <optional>
#include <vector>

namespace windway {

/// Median and robust scale of values, which a few outliers hardly move; unit of the values.
struct RobustCentre {
  double median = 0;
  double scaled_mad = 0;  ///< median distance from the median, scaled to the SD of a normal distribution
  double scale = 0;       ///< scaled_mad; where half the values are equal, the scaled mean distance; 0 where all are
};

/// Empty for no values; they must be finite.
std::optional<RobustCentre> robust_centre(std::vector<double> values);

/// Modified z score: the signed distance from the median over the scale; empty where the scale is 0.
std::optional<double> modified_z(double value, const RobustCentre& centre);

/// True if the modified z is beyond 3.5 (B. Iglewicz, D. C. Hoaglin, How to Detect and Handle Outliers, 1993, from
/// memory). False where the scale is 0.
bool is_outlier(double value, const RobustCentre& centre);

/// SD of normal residuals about their median, from the median of their sizes, with the correction for few of them (C.
/// Croux and P. J. Rousseeuw, COMPSTAT 1 (1992) 411, from memory); 0 for none. Unit of the residuals.
double robust_sd(std::vector<double> residuals);

// Weights of a residual of `sds` standard deviations in an M-estimate (P. J. Huber, Robust Statistics, 1981). They
// stand in the header because fits ask for them in their innermost loop.

/// Huber: 1 up to two standard deviations, less beyond.
inline double huber_weight(double sds) {
  constexpr double full_weight_to_sds = 2.0;
  return std::abs(sds) <= full_weight_to_sds ? 1.0 : full_weight_to_sds / std::abs(sds);
}

/// From here on Tukey's bisquare gives no weight (95 % efficient for normal residuals, from memory).
inline constexpr double bisquare_reach_sds = 4.685;

/// Tukey's bisquare: 1 at none, 0 from `bisquare_reach_sds` on.
inline double bisquare_weight(double sds) {
  const double u = sds / bisquare_reach_sds;
  return std::abs(u) < 1.0 ? (1.0 - u * u) * (1.0 - u * u) : 0.0;
}

}  // namespace windway
