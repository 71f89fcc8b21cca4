// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/page/rows_figure.hpp"

#include <algorithm>
#include <cmath>
#include <sstream>
#include <utility>

#include "report/page/marks.hpp"
#include "report/page/picture_alone.hpp"
#include "report/page/section.hpp"
#include "report/page/typography.hpp"
#include "report/wording/layout.hpp"

namespace windway {
namespace {

constexpr double axis_px = 20.0;

Markup fluid(double height_px, const Markup& picture) {
  return element("svg", {{"width", "100%"}, {"height", height_px}, {"aria-hidden", "true"}}, picture);
}

Markup cell(const std::string& look, const Markup& content) { return element("td", {{"class", look}}, content); }

Markup further_markup(const std::string& words) {
  return words.empty() ? Markup() : element("span", {{"class", "second"}}, words_markup(typeset(" " + words)));
}

/// Words of an axis, centred at their place; near its ends within the picture.
Markup axis_label(double x_percent, const std::string& words, const std::string& look) {
  constexpr double end_percent = 10;
  const char* anchor = x_percent < end_percent ? "start" : x_percent > 100 - end_percent ? "end" : "middle";
  return label(x_percent, axis_px - 6, words, anchor, look);
}

/// What the axis is, seen or, where its figures say so themselves, only heard.
Markup axis_name_of(const RowsFigure& figure) {
  return figure.axis_name.empty() ? hidden(figure.title)
                                  : element("span", {{"class", "axis-name"}}, words_markup(typeset(figure.axis_name)));
}

Markup table_head(const RowsFigure& figure) {
  Markup cells = heading_cell(hidden(figure.row_name), "name") +
                 heading_cell(axis_name_of(figure) + fluid(axis_px, figure.axis), "drawn");
  if (!figure.words_name.empty())
    cells += heading_cell(words_markup(figure.words_name) + further_markup(figure.further_name), "words");
  return element("thead", {}, element("tr", {}, cells));
}

Markup table_row(const FigureRow& row, bool has_words) {
  Markup cells = element("th", {{"scope", "row"}}, words_markup(typeset(row.name))) +
                 cell("drawn", fluid(row.height_px, row.picture) + hidden(typeset(row.said)));
  if (has_words) cells += cell("words", words_markup(typeset(row.words)) + further_markup(row.further));
  return element("tr", {}, cells);
}

std::string look_of(const RowsFigure& figure) {
  const bool has_further = std::ranges::any_of(figure.rows, [](const FigureRow& row) { return !row.further.empty(); });
  return std::string("figure") + (figure.words_stay_on_phone ? "" : " without-words") +
         (figure.words_may_wrap ? " wraps" : "") + (has_further || !figure.further_name.empty() ? " briefly" : "") +
         (figure.has_wide_names ? " wide-names" : "");
}

/// The room for words in a picture alone.
double words_px_of(const RowsFigure& figure) {
  if (!figure.further_name.empty()) return 344;
  return figure.words_name.empty() ? 24 : 276;
}

/// Rows of a picture alone.
class RowsAlone {
 public:
  explicit RowsAlone(double words_px) : drawn_px_(PictureAlone::width_px - name_px - words_px) {}

  void add_title(const std::string& title) {
    picture_.go_down(30);
    picture_.add_text(PictureAlone::margin_px, picture_.top_px() - 8, title, "start", "title");
  }
  void add_sentences(const std::vector<std::string>& sentences) {
    constexpr std::size_t most_characters = 100;
    for (const std::string& sentence : sentences) {
      std::istringstream lines(wrapped(sentence, 0, most_characters));
      for (std::string line; std::getline(lines, line);) {
        picture_.go_down(line_height_px + 1);
        picture_.add_text(PictureAlone::margin_px, picture_.top_px() - 4, line, "start");
      }
    }
  }
  void add_axis(const RowsFigure& figure) {
    const std::string words_name =
        figure.words_name + (figure.further_name.empty() ? "" : "\u2003" + figure.further_name);
    picture_.go_down(18);
    picture_.add_text(name_px, picture_.top_px() - 4, figure.axis_name, "start", "quiet");
    picture_.add_text(words_left_px(), picture_.top_px() + axis_px - 6, words_name, "start", "quiet");
    picture_.add_picture(name_px, drawn_px_, axis_px, figure.axis);
  }
  void add_row(const FigureRow& row) {
    const double base_px = picture_.top_px() + row.height_px / 2 + 4.5;
    picture_.add_text(name_px - 12, base_px, row.name, "end", "name");
    const std::vector<std::string> lines = lines_of(row);
    double line_px = base_px - line_height_px * (static_cast<double>(lines.size()) - 1) / 2;
    for (const std::string& line : lines) {
      picture_.add_text(words_left_px(), line_px, line, "start");
      line_px += line_height_px;
    }
    picture_.add_picture(name_px, drawn_px_, row.height_px, row.picture);
  }

  PictureAlone& picture() { return picture_; }

 private:
  static constexpr double name_px = 88, line_height_px = 16;
  double words_left_px() const { return name_px + drawn_px_ + 10; }

  double drawn_px_;
  PictureAlone picture_;
};

}  // namespace

Markup axis_row(const Axis& axis, int most_ticks) {
  const double step = tick_step(axis, most_ticks);
  const std::vector<double> values = ticks(axis, most_ticks);
  constexpr std::size_t most_on_phone = 5;
  Markup row;
  for (std::size_t at = 0; at < values.size(); ++at) {
    const bool is_second = values.size() > most_on_phone && std::lround(values[at] / step) % 2 != 0;
    row += axis_label(axis.percent(values[at]), tick_label(values[at], step), is_second ? "second" : "");
  }
  return row;
}

Markup axis_row(const Axis& axis, const std::vector<std::pair<double, std::string>>& words) {
  Markup row;
  for (const auto& [value, text] : words) row += axis_label(axis.percent(value), text, "");
  return row;
}

Markup grid_lines(const Axis& axis, int most_ticks, double row_px) {
  Markup lines;
  for (const double value : ticks(axis, most_ticks)) lines += upright(axis, value, row_px, "grid");
  return lines;
}

Markup section_of(const RowsFigure& figure) {
  Markup body;
  for (const FigureRow& row : figure.rows) body += table_row(row, !figure.words_name.empty());
  const Markup table = element("table", {{"class", look_of(figure)}, {"aria-labelledby", figure.id}},
                               table_head(figure) + element("tbody", {}, body));
  return section(figure.id, figure.title,
                 paragraphs(figure.sentences) + keys_markup(figure.keys) + table + figure.below);
}

std::vector<std::string> lines_of(const FigureRow& row) {
  const std::size_t most_characters = row.further.empty() ? 39 : 50;
  std::vector<std::string> lines;
  const std::string words = row.words + (row.further.empty() ? "" : "\u2003" + row.further);
  std::istringstream wrapped_words(wrapped(words, 0, most_characters));
  for (std::string line; std::getline(wrapped_words, line);) lines.push_back(line);
  return lines;
}

std::string svg_of(const RowsFigure& figure) {
  constexpr double keys_left_px = 88;
  RowsAlone rows(words_px_of(figure));
  rows.add_title(figure.title);
  rows.add_sentences(figure.sentences);
  rows.add_axis(figure);
  for (const FigureRow& row : figure.rows) rows.add_row(row);
  add_keys(rows.picture(), figure.keys, keys_left_px);
  return rows.picture().svg(figure.title);
}

}  // namespace windway
