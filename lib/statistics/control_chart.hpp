// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace windway {

/// Chart of single values in the order of production; unit of the values. Values beyond the limits are outliers of the
/// bench's common scatter.
struct IndividualsChart {
  double mean = 0;
  double mean_moving_range = 0;  ///< mean distance of a value from the one before
  double lower = 0;              ///< mean -/+ 3 mean moving ranges / 1.128
  double upper = 0;
  std::vector<std::size_t> outside;  ///< index of each value beyond a limit, ascending
};

/// Limits from fewer degrees of freedom would be unsure by 27 % and more (an SD of d degrees by 1 / sqrt(2 d));
/// common practice, no source.
inline constexpr std::size_t least_chart_degrees = 7;
inline constexpr std::size_t least_chart_values = least_chart_degrees + 1;

/// The chart of finite values (NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2); empty for fewer than eight.
std::optional<IndividualsChart> individuals_chart(std::span<const double> in_order);

/// Factors of the charts of means and SDs of subgroups of one size (ISO 7870-2).
struct ChartFactors {
  double c4 = 0;  ///< expected SD of a subgroup over the true SD, values normally distributed
  double a3 = 0;  ///< limits of a mean: grand mean -/+ a3 times the mean SD
  double b3 = 0;  ///< limits of an SD: b3 and b4 times the mean SD
  double b4 = 0;
};

/// `subgroup_size` is 2 at least.
ChartFactors chart_factors(std::size_t subgroup_size);

/// Charts of the means and of the SDs of equal subgroups in order; unit of the values.
struct SubgroupChart {
  std::size_t subgroup_size = 0;
  double grand_mean = 0;
  double mean_sd = 0;
  double sigma = 0;  ///< SD within subgroups: mean_sd / c4
  double mean_lower = 0;
  double mean_upper = 0;
  double sd_lower = 0;
  double sd_upper = 0;
  std::vector<std::size_t> means_outside;  ///< indices of subgroups, ascending
};

/// Empty for fewer than two subgroups, subgroups of fewer than two values or of unequal size, and where the values
/// within them have fewer than `least_chart_degrees` together. Values must be finite.
std::optional<SubgroupChart> subgroup_chart(const std::vector<std::vector<double>>& subgroups);

}  // namespace windway
