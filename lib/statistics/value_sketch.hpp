// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

namespace windway {

/// Number of values nearest to one step of the sketch.
struct SketchBin {
  std::int32_t step = 0;  ///< the bin's middle is `step` times 0.05 cents
  std::uint64_t count = 0;

  bool operator==(const SketchBin&) const = default;
};

/// Quantiles of any number of cents in bounded memory: a histogram of bins 0.05 cents wide from -600 to +600, only
/// those that are filled (24,001 at most; as a rule a few hundred). Values beyond the ends count in the outermost bins.
/// The same values in any order give the same sketch.
struct ValueSketch {
  std::vector<SketchBin> bins;  ///< ascending
  std::uint64_t count = 0;

  bool operator==(const ValueSketch&) const = default;
};

/// Adds one value in cents. Values that are not finite are ignored.
void add(ValueSketch& sketch, double cents);

/// The quantile at `share` (0 to 1), interpolated linearly between sorted values (R. J.
/// Hyndman, Y. Fan, The American Statistician 50, 1996, definition 7); within 0.025 cents of that of the values
/// themselves where none lies beyond the ends. Empty for no values.
std::optional<double> quantile(const ValueSketch& sketch, double share);

}  // namespace windway
