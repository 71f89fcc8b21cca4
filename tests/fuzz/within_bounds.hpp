// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>

#include "fuzz_input.hpp"
#include "report/record/bounds.hpp"

namespace windway::fuzz {

/// Requires of each figure that it visits that it is finite and within the bounds that its field states.
struct WithinBounds {
  void operator()(const Field& field, double value) const {
    require(is_possible(field, value), std::string(field.key) + " is " + std::to_string(value));
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
