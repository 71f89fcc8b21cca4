// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "report/page/axis.hpp"
#include "report/page/figure_key.hpp"
#include "report/page/markup.hpp"

namespace windway {

/// A row of a figure: a name, a picture as wide as there is room, and words.
struct FigureRow {
  std::string name;
  Markup picture;
  double height_px = 24;
  std::string said;       ///< what the picture shows, for those who do not see it
  std::string words;      ///< right of the picture
  std::string further{};  ///< after the words; a narrow screen leaves it out
};

/// A figure of rows on one axis: a table whose cells hold pictures that join, or a picture alone.
struct RowsFigure {
  std::string id;  ///< of its heading; also its name for --figure
  std::string title;
  std::vector<std::string> sentences;
  std::vector<FigureKey> keys;
  std::string axis_name;
  Markup axis;  ///< the row of its figures, above the rows
  std::string row_name = "note";
  std::string words_name;    ///< heading of the words
  std::string further_name;  ///< heading of what comes after them
  std::vector<FigureRow> rows;
  bool words_may_wrap = false;      ///< where no line runs through the rows
  bool words_stay_on_phone = true;  ///< false: a narrow screen leaves them out
  bool has_wide_names = false;      ///< names of several notes
  Markup below{};                   ///< what is said of it, under it; a picture alone leaves it out
};

/// The figures of an axis, a row of their own; every second one may be left out where there is no room.
Markup axis_row(const Axis& axis, int most_ticks);
/// The same with words at places of the axis.
Markup axis_row(const Axis& axis, const std::vector<std::pair<double, std::string>>& words);
/// Thin uprights at the figures of the axis.
Markup grid_lines(const Axis& axis, int most_ticks, double row_px);

/// The words right of a row as lines of a picture alone; a row must be high enough for them.
std::vector<std::string> lines_of(const FigureRow& row);

/// A section of a page.
Markup section_of(const RowsFigure& figure);

/// A picture alone, a whole SVG file: 760 px wide, light or dark as who looks at it.
std::string svg_of(const RowsFigure& figure);

}  // namespace windway
