// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <random>
#include <utility>
#include <vector>

namespace windway::synthesis {

/// Random numbers that are the same on every standard library: the engine is fixed by the C++ standard, the
/// distributions (which the standard leaves open) are our own.
class Random {
 public:
  explicit Random(std::uint64_t seed) : engine_(seed) {}

  /// Uniform from `low` up to, but without, `high`.
  double uniform(double low, double high);
  /// One of the whole numbers from 0 up to, but without, `count`.
  std::size_t index(std::size_t count) { return static_cast<std::size_t>(uniform(0.0, static_cast<double>(count))); }
  template <typename T, std::size_t count>
  T one_of(const std::array<T, count>& values) {
    return values[index(count)];
  }
  /// In an order by lot; every order is as likely.
  template <typename T>
  void shuffle(std::vector<T>& items) {
    for (std::size_t i = items.size(); i > 1; --i) std::swap(items[i - 1], items[index(i)]);
  }
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
