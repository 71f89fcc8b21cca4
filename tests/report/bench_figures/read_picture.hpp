// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <gtest/gtest.h>

#include <pugixml.hpp>
#include <string>
#include <vector>

#include "report/page/markup.hpp"

namespace windway::figure_tests {

/// Read by a parser that is not windway; a failure of the test where it is not well-formed.
inline pugi::xml_document parsed(const std::string& markup) {
  pugi::xml_document document;
  const auto result = document.load_string(markup.c_str(), pugi::parse_default | pugi::parse_ws_pcdata_single);
  EXPECT_TRUE(result) << result.description() << " at " << markup.substr(static_cast<std::size_t>(result.offset), 80);
  return document;
}

inline pugi::xml_document parsed(const Markup& picture) { return parsed("<svg>" + picture.text() + "</svg>"); }

/// Figures of a picture, at their places.
struct ScaleFigure {
  double value = 0;
  double place = 0;
};

/// "−20" as a number.
inline double number_of(std::string label) {
  const std::string minus = "−";
  if (label.starts_with(minus)) label.replace(0, minus.size(), "-");
  return std::stod(label);
}

/// Every text of that class ("": of any), with its `x` or `y`.
inline std::vector<ScaleFigure> figures_in(const Markup& picture, const std::string& look, const char* along) {
  std::vector<ScaleFigure> figures;
  const auto document = parsed(picture);
  for (const auto& found : document.select_nodes("//text")) {
    const pugi::xml_node text = found.node();
    if (look.empty() || look == text.attribute("class").value())
      figures.push_back({number_of(text.text().get()), text.attribute(along).as_double()});
  }
  return figures;
}

/// The value at a place, on the line through two figures.
inline double value_at(double place, const std::vector<ScaleFigure>& figures) {
  const ScaleFigure &one = figures.at(figures.size() - 2), &other = figures.back();
  return one.value + (place - one.place) * (other.value - one.value) / (other.place - one.place);
}

/// That attribute of all elements that the query finds.
inline std::vector<double> places_of(const Markup& picture, const char* query, const char* attribute) {
  std::vector<double> places;
  const auto document = parsed(picture);
  for (const auto& found : document.select_nodes(query))
    places.push_back(found.node().attribute(attribute).as_double());
  return places;
}

}  // namespace windway::figure_tests
