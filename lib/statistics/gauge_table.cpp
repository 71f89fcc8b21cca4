// SPDX-License-Identifier: GPL-3.0-or-later
#include "statistics/gauge_table.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <utility>

namespace windway {
namespace {

/// Readings of each part by each operator, by part, then by operator.
struct SortedReadings {
  std::map<std::pair<std::size_t, std::size_t>, Moments> cells;
  std::set<std::size_t> parts;
  std::set<std::size_t> operators;
};

SortedReadings sorted(std::span<const GaugeReading> readings) {
  SortedReadings all;
  for (const GaugeReading& reading : readings) {
    add(all.cells[{reading.part, reading.operator_index}], reading.value);
    all.parts.insert(reading.part);
    all.operators.insert(reading.operator_index);
  }
  return all;
}

bool is_balanced(const SortedReadings& all) {
  const auto is_as_first = [&](const auto& cell) { return cell.second.n == all.cells.begin()->second.n; };
  return all.cells.size() == all.parts.size() * all.operators.size() && std::ranges::all_of(all.cells, is_as_first);
}

std::optional<std::string> fault_of(const SortedReadings& all) {
  if (all.parts.size() < 2) return "at least two instruments are needed";
  if (all.operators.size() < 2) return "at least two operators are needed";
  if (!is_balanced(all)) return "every operator must measure every instrument equally often";
  if (all.cells.begin()->second.n < 2) return "every operator must measure every instrument at least twice";
  return std::nullopt;
}

}  // namespace

std::optional<GaugeTable> gauge_table(std::span<const GaugeReading> readings) {
  const SortedReadings all = sorted(readings);
  if (fault_of(all)) return std::nullopt;
  GaugeTable table;
  table.parts = all.parts.size();
  table.operators = all.operators.size();
  table.trials = static_cast<std::size_t>(all.cells.begin()->second.n);
  for (const auto& [place, cell] : all.cells) table.cells.push_back(cell);
  return table;
}

std::optional<std::string> why_no_gauge_table(std::span<const GaugeReading> readings) {
  return fault_of(sorted(readings));
}

std::vector<double> part_means(const GaugeTable& table) {
  std::vector<double> means;
  for (std::size_t part = 0; part < table.parts; ++part) {
    Moments of_part;
    for (std::size_t of = 0; of < table.operators; ++of) add(of_part, table.cell(part, of).mean);
    means.push_back(of_part.mean);
  }
  return means;
}

std::vector<double> operator_means(const GaugeTable& table) {
  std::vector<double> means;
  for (std::size_t of = 0; of < table.operators; ++of) {
    Moments of_operator;
    for (std::size_t part = 0; part < table.parts; ++part) add(of_operator, table.cell(part, of).mean);
    means.push_back(of_operator.mean);
  }
  return means;
}

}  // namespace windway
