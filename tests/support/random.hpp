// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <optional>
#include <random>

namespace windway::synthesis {

/// Random numbers that are the same on every standard library: the engine is fixed by the C++ standard, the
/// distributions (which the standard leaves open) are our own.
class Random {
 public:
  explicit Random(std::uint64_t seed) : engine_(seed) {}

  /// Uniform from `low` up to, but without, `high`.
  double uniform(double low, double high);
  /// Normal with mean 0 and standard deviation 1.
  double normal();
  /// Normal with the mean and standard deviation given.
  double normal(double mean, double sd) { return mean + sd * normal(); }
  bool chance(double probability) { return uniform(0.0, 1.0) < probability; }

 private:
  std::mt19937_64 engine_;
  std::optional<double> spare_;
};

}  // namespace windway::synthesis
