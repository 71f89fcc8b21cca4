// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

namespace windway {

/// How many values fell nearest to one step of the sketch.
struct SketchBin {
  std::int32_t step = 0;  ///< the bin's middle is `step` times 0.05 cents
  std::uint64_t count = 0;

  bool operator==(const SketchBin&) const = default;
};

/// Quantiles of any number of cents in bounded room: a histogram of bins 0.05 cents wide from -600 to +600, only those
/// that are filled (24,001 at most; as a rule a few hundred). Parts sketched apart merge into the whole, whatever the
/// order: the same values give the same sketch.
struct ValueSketch {
  std::vector<SketchBin> bins;  ///< ascending
  std::uint64_t count = 0;
  std::uint64_t clamped_below = 0;  ///< of `count`: beyond the ends, counted in the outermost bins
  std::uint64_t clamped_above = 0;

  bool operator==(const ValueSketch&) const = default;
};

/// Takes in one more value in cents. What is not finite is no value: it is left out and not counted.
void add(ValueSketch& sketch, double cents);

/// Takes the values of `other` into `sketch`.
void merge(ValueSketch& sketch, const ValueSketch& other);

/// The value below which `share` (0 to 1) of the values lie, straight between neighbours of the sorted values (R. J.
/// Hyndman, Y. Fan, The American Statistician 50, 1996, definition 7); within 0.025 cents of that of the values
/// themselves where none was clamped. Empty for no values.
std::optional<double> quantile(const ValueSketch& sketch, double share);

}  // namespace windway
