// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/page/rows_figure.hpp"

#include <cmath>
#include <utility>

#include "report/page/marks.hpp"
#include "report/page/section.hpp"
#include "report/page/style.hpp"
#include "report/page/typography.hpp"

namespace windway {
namespace {

constexpr double axis_px = 20.0;
constexpr double key_px = 18.0;

Markup fluid(double height_px, const Markup& picture) {
  return element("svg", {{"width", "100%"}, {"height", height_px}, {"aria-hidden", "true"}}, picture);
}

Markup cell(const std::string& look, const Markup& content) { return element("td", {{"class", look}}, content); }

Markup heading_cell(const std::string& look, const Markup& content) {
  std::vector<Attribute> attributes{{"scope", "col"}};
  if (!look.empty()) attributes.push_back({"class", look});
  return element("th", attributes, content);
}

/// What the axis is, seen or, where its figures say so themselves, only heard.
Markup axis_name_of(const RowsFigure& figure) {
  return figure.axis_name.empty()
             ? hidden(figure.title)
             : element("span", {{"class", "axis-name"}}, words_markup(typeset(figure.axis_name)));
}

Markup table_head(const RowsFigure& figure) {
  Markup cells = heading_cell("name", hidden(figure.row_name)) +
                 heading_cell("drawn", axis_name_of(figure) + fluid(axis_px, figure.axis));
  if (!figure.words_name.empty()) cells += heading_cell("words", words_markup(figure.words_name));
  return element("thead", {}, element("tr", {}, cells));
}

Markup table_row(const FigureRow& row, bool has_words) {
  Markup cells = element("th", {{"scope", "row"}}, words_markup(typeset(row.name))) +
                 cell("drawn", fluid(row.height_px, row.picture) + hidden(typeset(row.said)));
  if (has_words) cells += cell("words", words_markup(typeset(row.words)));
  return element("tr", {}, cells);
}

Markup keys_of(const RowsFigure& figure) {
  Markup keys;
  for (const FigureKey& key : figure.keys)
    keys += element("span", {{"class", "key"}},
                    element("svg", {{"width", key.width_px}, {"height", key_px}, {"aria-hidden", "true"}}, key.mark) +
                        words_markup(typeset(key.meaning)));
  return keys.empty() ? keys : element("p", {{"class", "keys"}}, keys);
}

/// Rows of a picture alone, from the top down.
class Picture {
 public:
  static constexpr double width_px = 760, name_px = 88, words_px = 236, margin_px = 16;

  void add_title(const std::string& title) {
    top_px_ += 30;
    drawn_ += text_at(margin_px, top_px_ - 8, title, "start", "title");
  }
  void add_axis(const RowsFigure& figure) {
    top_px_ += 18;
    drawn_ += text_at(name_px, top_px_ - 4, figure.axis_name, "start", "quiet");
    drawn_ += text_at(words_left_px() + 10, top_px_ + axis_px - 6, figure.words_name, "start", "quiet");
    add_cell(axis_px, figure.axis);
  }
  void add_row(const FigureRow& row) {
    const double base_px = top_px_ + row.height_px / 2 + 4.5;
    drawn_ += text_at(name_px - 12, base_px, row.name, "end", "name");
    drawn_ += text_at(words_left_px() + 10, base_px, row.words, "start", "");
    add_cell(row.height_px, row.picture);
  }
  void add_keys(const std::vector<FigureKey>& keys) {
    for (const FigureKey& key : keys) {
      top_px_ += 22;
      drawn_ += element("svg",
                        {{"x", name_px}, {"y", top_px_ - 14}, {"width", key.width_px}, {"height", key_px}}, key.mark);
      drawn_ += text_at(name_px + key.width_px + 8, top_px_, key.meaning, "start", "quiet");
    }
  }

  std::string svg(const std::string& title) const {
    const double height_px = top_px_ + margin_px;
    const Markup paper = leaf("rect", {{"class", "paper"}, {"width", width_px}, {"height", height_px}});
    const Markup content = element("title", {}, words_markup(typeset(title))) + style_markup(picture_style) +
                           hatching() + paper + drawn_;
    return element("svg",
                   {{"xmlns", "http://www.w3.org/2000/svg"},
                    {"width", width_px},
                    {"height", height_px},
                    {"viewBox", "0 0 " + coordinate(width_px) + " " + coordinate(height_px)},
                    {"role", "img"}},
                   content)
               .text() +
           "\n";
  }

 private:
  static constexpr double words_left_px() { return width_px - words_px; }

  static Markup text_at(double x_px, double y_px, const std::string& words, const std::string& anchor,
                        const std::string& look) {
    if (words.empty()) return {};
    std::vector<Attribute> attributes{{"x", x_px}, {"y", y_px}, {"text-anchor", anchor}};
    if (!look.empty()) attributes.push_back({"class", look});
    return element("text", attributes, words_markup(typeset(words)));
  }

  void add_cell(double height_px, const Markup& picture) {
    drawn_ += element("svg",
                      {{"x", name_px},
                       {"y", top_px_},
                       {"width", words_left_px() - name_px},
                       {"height", height_px},
                       {"overflow", "visible"}},
                      picture);
    top_px_ += height_px;
  }

  double top_px_ = 4;
  Markup drawn_;
};

}  // namespace

Markup axis_row(const Axis& axis, int most_ticks) {
  const double step = tick_step(axis, most_ticks);
  const std::vector<double> values = ticks(axis, most_ticks);
  constexpr std::size_t most_on_phone = 5;
  Markup row;
  for (std::size_t at = 0; at < values.size(); ++at) {
    const double x = axis.percent(values[at]);
    const std::string anchor = x < 4 ? "start" : x > 96 ? "end" : "middle";
    const bool is_second = values.size() > most_on_phone && std::lround(values[at] / step) % 2 != 0;
    row += label(x, axis_px - 6, tick_label(values[at], step), anchor, is_second ? "second" : "");
  }
  return row;
}

Markup axis_row(const Axis& axis, const std::vector<std::pair<double, std::string>>& words) {
  Markup row;
  for (const auto& [value, text] : words) {
    const double x = axis.percent(value);
    row += label(x, axis_px - 6, text, x < 10 ? "start" : x > 90 ? "end" : "middle");
  }
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
  const std::string look = figure.words_stay_on_phone ? "figure" : "figure without-words";
  const Markup table =
      element("table", {{"class", look}, {"aria-labelledby", figure.id}}, table_head(figure) + element("tbody", {}, body));
  return section(figure.id, figure.title, paragraphs(figure.sentences) + keys_of(figure) + table);
}

std::string svg_of(const RowsFigure& figure) {
  Picture picture;
  picture.add_title(figure.title);
  picture.add_axis(figure);
  for (const FigureRow& row : figure.rows) picture.add_row(row);
  picture.add_keys(figure.keys);
  return picture.svg(figure.title);
}

}  // namespace windway
