// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <algorithm>
#include <cassert>
#include <string>
#include <string_view>
#include <vector>

namespace windway {

/// A figure that can be drawn alone, by its name for --figure.
template <typename Draw>
struct NamedFigure {
  std::string_view name;
  Draw draw;
};

template <typename Figures>
std::vector<std::string> names_of(const Figures& figures) {
  std::vector<std::string> names;
  for (const auto& figure : figures) names.emplace_back(figure.name);
  return names;
}

/// The figure of that name, "" the first; the name must be one of theirs.
template <typename Figures>
const auto& figure_named(const Figures& figures, std::string_view name) {
  const auto found = name.empty() ? figures.begin() : std::ranges::find(figures, name, &Figures::value_type::name);
  assert(found != figures.end());
  return *found;
}

}  // namespace windway
