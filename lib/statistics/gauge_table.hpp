// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "statistics/moments.hpp"

namespace windway {

/// One reading in a gauge study. The indices are labels: they need not be consecutive.
struct GaugeReading {
  std::size_t part = 0;
  std::size_t operator_index = 0;
  double value = 0;
};

/// Readings sorted into a full table: every operator measured every part equally often. The order of the
/// readings does not matter.
struct GaugeTable {
  std::size_t parts = 0;
  std::size_t operators = 0;
  std::size_t trials = 0;
  std::vector<Moments> cells;  ///< all operators of the first part, of the second, ...

  const Moments& cell(std::size_t part, std::size_t of_operator) const { return cells[part * operators + of_operator]; }
};

/// Empty for fewer than two parts, operators or trials, or where a cell is incomplete. Values must be finite.
std::optional<GaugeTable> gauge_table(std::span<const GaugeReading> readings);

/// Why these readings make no table, in words; empty where they do.
std::optional<std::string> why_no_gauge_table(std::span<const GaugeReading> readings);

/// Mean of each part, and of each operator, over all its readings.
std::vector<double> part_means(const GaugeTable& table);
std::vector<double> operator_means(const GaugeTable& table);

}  // namespace windway
