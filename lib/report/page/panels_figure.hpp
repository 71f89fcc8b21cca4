// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "report/page/markup.hpp"
#include "report/page/rows_figure.hpp"

namespace windway {

/// A picture as wide as the page, under a heading of its own.
struct FigurePanel {
  std::string title;
  std::vector<std::string> sentences;
  Markup picture;
  double height_px = 150;
  std::string said;  ///< what the picture shows, for those who do not see it
};

/// A figure of panels, one below the other.
struct PanelsFigure {
  std::string id;  ///< of its heading; also its name for --figure
  std::string title;
  std::vector<std::string> sentences;
  std::vector<FigureKey> keys;
  std::vector<FigurePanel> panels;
  Markup below{};  ///< what is said of it, under it; a picture alone leaves it out
};

/// A section of a page.
Markup section_of(const PanelsFigure& figure);

/// A picture alone, a whole SVG file.
std::string svg_of(const PanelsFigure& figure);

}  // namespace windway
