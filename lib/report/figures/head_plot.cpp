// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/figures/head_plot.hpp"

#include <algorithm>
#include <cmath>

#include "report/page/axis.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/layout.hpp"

namespace windway {
namespace {

constexpr std::size_t indent = 2;  // of lines as they are

/// What a row of the plot shows, on the axis of the plot.
struct PlotRow {
  std::string name;
  double soft = 0, moderate = 0, hard = 0;
  bool is_assumed = false;
};

struct Plot {
  std::string heading;
  std::vector<PlotRow> rows;
  double line = 0;  ///< the best place that the head reaches, or "in tune"
  std::optional<double> was;
};

Plot plot_of_places(const Pictured& picture) {
  Plot plot;
  plot.heading = picture.is_out_of_fully_in ? "head drawn out, mm" : "head moved, mm";
  for (const PicturedNote& note : picture.notes)
    plot.rows.push_back({note.name, picture.at_mm + note.true_mm.soft_mm, picture.at_mm + note.true_mm.moderate_mm,
                         picture.at_mm + note.true_mm.hard_mm, note.is_assumed});
  plot.line = picture.at_mm + picture.compromise->slide_mm;
  if (!picture.is_out_of_fully_in) plot.was = 0;
  return plot;
}

Plot plot_of_cents(const Pictured& picture) {
  Plot plot;
  plot.heading = "cents from the target";
  for (const PicturedNote& note : picture.notes)
    plot.rows.push_back({note.name, note.found.moderate_cents - note.found.reach_soft_cents, note.found.moderate_cents,
                         note.found.moderate_cents + note.found.reach_hard_cents, note.is_assumed});
  plot.was = picture.home_cents;
  return plot;
}

Axis axis_of(const Plot& plot) {
  constexpr double least_width = 1;
  double least = plot.line, most = plot.line;
  if (plot.was) least = std::min(least, *plot.was), most = std::max(most, *plot.was);
  for (const PlotRow& row : plot.rows) least = std::min(least, row.soft), most = std::max(most, row.hard);
  const double lacking = std::max(0.0, least_width - (most - least));
  return {least - lacking / 2, most + lacking / 2};
}

/// Columns of the plot, counted from its left edge.
class PlotColumns {
 public:
  PlotColumns(const Axis& axis, std::size_t width) : axis_(axis), width_(width) {}

  std::size_t of(double value) const {
    return static_cast<std::size_t>(std::lround(axis_.percent(value) / 100 * static_cast<double>(width_ - 1)));
  }
  std::size_t width() const { return width_; }

 private:
  Axis axis_;
  std::size_t width_;
};

std::string trimmed(std::string line) {
  line.erase(line.find_last_not_of(' ') + 1);
  return line;
}

/// The figures of the axis, each about its column; one that has no room is left out.
std::string axis_line(const Axis& axis, const PlotColumns& columns) {
  const int places = tick_places(tick_step(axis, most_ticks_across));
  std::string line(columns.width(), ' ');
  std::size_t free_from = 0;
  for (const double tick : ticks(axis, most_ticks_across)) {
    const std::string figure = signed_fixed(tick, places);
    const std::size_t at = columns.of(tick) - std::min(columns.of(tick), figure.size() / 2);
    const std::size_t start = std::min(at, columns.width() - figure.size());
    if (start < free_from) continue;
    line.replace(start, figure.size(), figure);
    free_from = start + figure.size() + 1;
  }
  return line;
}

std::string row_line(const PlotRow& row, const Plot& plot, const PlotColumns& columns) {
  std::string line(columns.width(), ' ');
  if (plot.was) line[columns.of(*plot.was)] = ':';
  for (std::size_t at = columns.of(row.soft); at <= columns.of(row.hard); ++at) line[at] = row.is_assumed ? '.' : '-';
  line[columns.of(row.soft)] = '<';
  line[columns.of(row.hard)] = '>';
  line[columns.of(row.moderate)] = '|';
  line[columns.of(plot.line)] = '!';
  return line;
}

/// What the line through the rows is.
const char* line_in_words(const Pictured& pictured) {
  if (!pictured.head_moves) return "in tune";
  return pictured.compromise->limit ? "as near to the best place as the head goes" : "best";
}

std::string legend_of(const Plot& plot, const Pictured& pictured) {
  const bool head_moves = pictured.head_moves;
  std::string words = "  " + plot.heading + (head_moves ? ": < in tune if blown soft" : ": < blown soft") +
                      ", | moderately, > hard; ! " + line_in_words(pictured);
  if (plot.was) words += head_moves ? "; : now" : "; : the whole scale";
  const bool any_assumed = std::ranges::any_of(plot.rows, &PlotRow::is_assumed);
  return words + (any_assumed ? "; .: how far the breath bends it was not measured" : "");
}

}  // namespace

Prose head_plot(const Pictured& pictured, std::size_t columns) {
  const Plot plot = pictured.head_moves ? plot_of_places(pictured) : plot_of_cents(pictured);
  std::size_t name_width = 0;
  for (const PlotRow& row : plot.rows) name_width = std::max(name_width, display_width(row.name));
  const std::size_t left = indent + name_width + 2;
  const Axis axis = axis_of(plot);
  const PlotColumns places(axis, columns - left);
  Code code{{trimmed(std::string(left - indent, ' ') + axis_line(axis, places))}};
  for (const PlotRow& row : plot.rows) {
    const std::string padding(left - indent - display_width(row.name), ' ');
    code.lines.push_back(trimmed(row.name + padding + row_line(row, plot, places)));
  }
  return words(legend_of(plot, pictured), indent) + Prose(code);
}

}  // namespace windway
