// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <optional>

#include "statistics/moments.hpp"

namespace windway {

/// Sums over any number of groups for a one-way analysis, in constant memory.
struct OneWaySums {
  std::uint64_t groups = 0;
  std::uint64_t grouped_squares = 0;  ///< sum of squared group sizes
  double ss_within = 0;               ///< squared deviations from the own group's mean
  Moments means;                      ///< each group's mean, counted once for each of its values: m2 is ss_between
};

/// Adds a complete group; an empty one changes nothing.
void add_group(OneWaySums& sums, const Moments& group);

/// The SD of values of one group about its mean, with its interval at 95 % (chi-square, values normally distributed).
struct RepeatabilitySd {
  double sd = 0;
  double lower = 0;
  double upper = 0;
  std::uint64_t degrees = 0;
};

/// Empty where no group has two values. One group is enough.
std::optional<RepeatabilitySd> repeatability_sd(const OneWaySums& sums);

/// One-way analysis of variance with random effects (S. R. Searle, G. Casella, C. E. McCulloch, Variance Components,
/// 1992, chapter 3, from memory). Squares of the values' unit.
struct OneWay {
  double ss_between = 0;
  std::uint64_t df_between = 0;
  double ss_within = 0;
  std::uint64_t df_within = 0;
  std::optional<double> f;      ///< mean square between over within; empty where nothing varies within
  double within_variance = 0;   ///< repeatability
  double between_variance = 0;  ///< of the groups' true means; 0 where the estimate is negative
  double n0 = 0;                ///< effective group size for the variance between; the size of equal groups
  RepeatabilitySd repeatability;
};

/// Empty for fewer than two groups or where no group has two values.
std::optional<OneWay> one_way(const OneWaySums& sums);

}  // namespace windway
