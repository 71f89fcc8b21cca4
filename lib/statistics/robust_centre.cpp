// SPDX-License-Identifier: GPL-3.0-or-later
#include "statistics/robust_centre.hpp"

#include <cassert>
#include <cmath>
#include <numeric>
#include <utility>

#include "units/order_statistics.hpp"

namespace windway {
namespace {

constexpr double sd_per_mean_distance = 1.2533141373155003;  // sqrt(pi / 2)
constexpr double outlier_limit = 3.5;

}  // namespace

std::optional<RobustCentre> robust_centre(std::vector<double> values) {
  const auto median = median_of(values);
  if (!median) return std::nullopt;
  for (double& value : values) {
    assert(std::isfinite(value));
    value = std::abs(value - *median);
  }
  const double mean_distance = std::reduce(values.begin(), values.end()) / static_cast<double>(values.size());
  const double scaled_mad = sd_per_mad * median_of(std::move(values)).value();
  return RobustCentre{.median = *median,
                      .scaled_mad = scaled_mad,
                      .scale = scaled_mad > 0.0 ? scaled_mad : sd_per_mean_distance * mean_distance};
}

std::optional<double> modified_z(double value, const RobustCentre& centre) {
  if (centre.scale <= 0.0) return std::nullopt;
  return (value - centre.median) / centre.scale;
}

bool is_outlier(double value, const RobustCentre& centre) {
  return std::abs(modified_z(value, centre).value_or(0.0)) > outlier_limit;
}

double robust_sd(std::vector<double> residuals) {
  for (double& residual : residuals) residual = std::abs(residual);
  const double n = static_cast<double>(residuals.size());
  const double few = n > 1.0 ? n / (n - 0.8) : 1.0;
  return few * sd_per_mad * median_of(std::move(residuals)).value_or(0.0);
}

}  // namespace windway
