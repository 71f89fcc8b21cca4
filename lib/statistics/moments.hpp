// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <optional>
#include <span>

namespace windway {

/// Count, mean and spread of any number of values in constant memory, in the values' unit. All 0 where there are no
/// values.
struct Moments {
  std::uint64_t n = 0;
  double mean = 0;
  double m2 = 0;  ///< sum of squared deviations from the mean
  double min = 0;
  double max = 0;

  bool operator==(const Moments&) const = default;
};

/// Adds one value, which must be finite (B. P. Welford, Technometrics 4, 1962: loses no digits where the mean is
/// large against the spread).
void add(Moments& moments, double value);

/// The moments of all `values`, which must be finite.
Moments moments_of(std::span<const double> values);

/// The moments of the values of both (T. F. Chan, G. H. Golub, R. J. LeVeque, The American Statistician 37, 1983).
Moments merged(const Moments& one, const Moments& other);

/// The sample's standard deviation, by n - 1; empty for fewer than two values.
std::optional<double> sample_sd(const Moments& moments);

}  // namespace windway
