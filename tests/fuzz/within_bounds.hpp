// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cmath>
#include <optional>
#include <string>

#include "fuzz_input.hpp"
#include "report/record/field.hpp"

namespace windway::fuzz {

/// Requires of each figure that it visits that it is finite and within the bounds that its field states.
struct WithinBounds {
  void operator()(const Field& field, double value) const {
    const std::string key = field.key;
    require(std::isfinite(value), key + " is finite");
    const bool is_absent = field.is(nullable) && value == 0;
    require(!field.is(at_least_0) || value >= 0, key + " is at least 0");
    require(!field.is(above_0) || value > 0 || is_absent, key + " is above 0");
    require(!field.is(at_least_1) || value >= 1 || is_absent, key + " is at least 1");
    require(!field.is(at_most_1) || value <= 1, key + " is at most 1");
    require(!field.is(at_most_100) || value <= 100, key + " is at most 100");
  }
  void operator()(const Field& field, const std::optional<double>& value) const {
    if (value) (*this)(field, *value);
  }
  template <typename Other>
  void operator()(const Field& field, const Other& value) const {
    if constexpr (std::is_arithmetic_v<Other>) (*this)(field, static_cast<double>(value));
  }
  template <typename Estimate>
  void operator()(const Field& field, const char* u95_key, const Estimate& estimate) const {
    const auto& [value, u95] = estimate;
    (*this)(field, value);
    (*this)(u95_of(field, u95_key), u95);
  }
  template <typename Estimate>
  void operator()(const Field& field, const char* u95_key, const std::optional<Estimate>& estimate) const {
    if (estimate) (*this)(field, u95_key, *estimate);
  }
};

}  // namespace windway::fuzz
