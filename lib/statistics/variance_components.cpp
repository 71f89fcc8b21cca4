// SPDX-License-Identifier: GPL-3.0-or-later
#include "statistics/variance_components.hpp"

#include <algorithm>
#include <boost/math/distributions/chi_squared.hpp>
#include <cmath>

namespace windway {

void add_group(OneWaySums& sums, const Moments& group) {
  if (group.n == 0) return;
  sums.groups += 1;
  sums.grouped_squares += group.n * group.n;
  sums.ss_within += group.m2;
  sums.means = merged(sums.means, {.n = group.n, .mean = group.mean, .m2 = 0, .min = group.mean, .max = group.mean});
}

std::optional<RepeatabilitySd> repeatability_sd(const OneWaySums& sums) {
  const std::uint64_t degrees = sums.means.n - sums.groups;
  if (degrees == 0) return std::nullopt;
  const boost::math::chi_squared chi_squared(static_cast<double>(degrees));
  return RepeatabilitySd{.sd = std::sqrt(sums.ss_within / static_cast<double>(degrees)),
                         .lower = std::sqrt(sums.ss_within / boost::math::quantile(chi_squared, 0.975)),
                         .upper = std::sqrt(sums.ss_within / boost::math::quantile(chi_squared, 0.025)),
                         .degrees = degrees};
}

std::optional<OneWay> one_way(const OneWaySums& sums) {
  const auto repeatability = repeatability_sd(sums);
  if (!repeatability || sums.groups < 2) return std::nullopt;
  OneWay result;
  result.ss_between = sums.means.m2;
  result.df_between = sums.groups - 1;
  result.ss_within = sums.ss_within;
  result.df_within = repeatability->degrees;
  result.repeatability = *repeatability;
  const auto n = static_cast<double>(sums.means.n);
  const auto df_between = static_cast<double>(result.df_between);
  const double between_square = result.ss_between / df_between;
  result.within_variance = result.ss_within / static_cast<double>(result.df_within);
  if (result.within_variance > 0.0) result.f = between_square / result.within_variance;
  result.n0 = (n - static_cast<double>(sums.grouped_squares) / n) / df_between;
  const double between_variance = (between_square - result.within_variance) / result.n0;
  result.between_variance = std::max(0.0, between_variance);
  return result;
}

}  // namespace windway
