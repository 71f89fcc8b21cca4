// SPDX-License-Identifier: GPL-3.0-or-later
#include "statistics/control_chart.hpp"

#include <algorithm>
#include <boost/math/special_functions/gamma.hpp>
#include <cassert>
#include <cmath>

#include "statistics/moments.hpp"

namespace windway {
namespace {

/// d2: expected range of two normal values over their SD, 2 / sqrt(pi) = 1.12838, rounded as in printed charts.
constexpr double d2_of_two = 1.128;

std::vector<std::size_t> outside_of(std::span<const double> values, double lower, double upper) {
  std::vector<std::size_t> outside;
  for (std::size_t i = 0; i < values.size(); ++i) {
    if (values[i] < lower || values[i] > upper) outside.push_back(i);
  }
  return outside;
}

/// The common size of the subgroups; empty where they are too few, too small or unequal.
std::optional<std::size_t> size_of_all(const std::vector<std::vector<double>>& subgroups) {
  if (subgroups.size() < 2 || subgroups.front().size() < 2) return std::nullopt;
  const std::size_t size = subgroups.front().size();
  const auto has_size = [size](const std::vector<double>& subgroup) { return subgroup.size() == size; };
  return std::ranges::all_of(subgroups, has_size) ? std::optional(size) : std::nullopt;
}

}  // namespace

std::optional<IndividualsChart> individuals_chart(std::span<const double> in_order) {
  if (in_order.size() < least_chart_values) return std::nullopt;
  Moments moving_ranges;
  for (std::size_t i = 1; i < in_order.size(); ++i) add(moving_ranges, std::abs(in_order[i] - in_order[i - 1]));
  const double mean = moments_of(in_order).mean;
  const double reach = 3.0 * moving_ranges.mean / d2_of_two;
  return IndividualsChart{.mean = mean,
                          .mean_moving_range = moving_ranges.mean,
                          .lower = mean - reach,
                          .upper = mean + reach,
                          .outside = outside_of(in_order, mean - reach, mean + reach)};
}

ChartFactors chart_factors(std::size_t subgroup_size) {
  assert(subgroup_size >= 2);
  const auto n = static_cast<double>(subgroup_size);
  // Gamma((n - 1) / 2) / Gamma(n / 2) as one ratio: it cannot overflow.
  const double c4 = std::sqrt(2.0 / (n - 1.0)) / boost::math::tgamma_delta_ratio((n - 1.0) / 2.0, 0.5);
  const double reach = 3.0 * std::sqrt(1.0 - c4 * c4) / c4;
  return {.c4 = c4, .a3 = 3.0 / (c4 * std::sqrt(n)), .b3 = std::max(0.0, 1.0 - reach), .b4 = 1.0 + reach};
}

std::optional<SubgroupChart> subgroup_chart(const std::vector<std::vector<double>>& subgroups) {
  const auto size = size_of_all(subgroups);
  if (!size || subgroups.size() * (*size - 1) < least_chart_degrees) return std::nullopt;
  std::vector<double> means;
  std::vector<double> sds;
  for (const auto& subgroup : subgroups) {
    const Moments moments = moments_of(subgroup);
    means.push_back(moments.mean);
    sds.push_back(sample_sd(moments).value());
  }
  const ChartFactors factors = chart_factors(*size);
  SubgroupChart chart;
  chart.subgroup_size = *size;
  chart.grand_mean = moments_of(means).mean;
  chart.mean_sd = moments_of(sds).mean;
  chart.sigma = chart.mean_sd / factors.c4;
  chart.mean_lower = chart.grand_mean - factors.a3 * chart.mean_sd;
  chart.mean_upper = chart.grand_mean + factors.a3 * chart.mean_sd;
  chart.sd_lower = factors.b3 * chart.mean_sd;
  chart.sd_upper = factors.b4 * chart.mean_sd;
  chart.means_outside = outside_of(means, chart.mean_lower, chart.mean_upper);
  return chart;
}

}  // namespace windway
