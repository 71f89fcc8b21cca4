// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/page/section.hpp"

#include <algorithm>
#include <cctype>
#include <variant>

#include "report/page/marks.hpp"
#include "report/page/style.hpp"
#include "report/page/typography.hpp"

namespace windway {
namespace {

Markup paragraph(const std::string& look, const std::string& words) {
  return look.empty() ? element("p", {}, set(words)) : element("p", {{"class", look}}, set(words));
}

/// Empty ones are left out.
Markup paragraphs_of(const std::string& look, const std::vector<std::string>& sentences) {
  Markup all;
  for (const std::string& each : sentences)
    if (!each.empty()) all += paragraph(look, each);
  return all;
}

/// Headers of columns; one without a header belongs to the column before it.
Markup header_row(const std::vector<Column>& columns) {
  Markup row;
  for (std::size_t at = 0; at < columns.size(); ++at) {
    std::size_t width = 1;
    while (at + width < columns.size() && columns[at + width].header.empty()) ++width;
    std::vector<Attribute> attributes{{"scope", "col"}};
    if (columns[at].right_aligned) attributes.push_back({"class", "figure-cell"});
    if (width > 1) attributes.push_back({"colspan", std::to_string(width)});
    row += element("th", attributes, set(columns[at].header));
    at += width - 1;
  }
  return element("thead", {}, element("tr", {}, row));
}

Markup body_row(const std::vector<Column>& columns, const std::vector<std::string>& cells) {
  Markup row = element("th", {{"scope", "row"}}, set(cells.front()));
  for (std::size_t at = 1; at < cells.size(); ++at)
    row += columns[at].right_aligned ? element("td", {{"class", "figure-cell"}}, set(cells[at]))
                                     : element("td", {}, set(cells[at]));
  return element("tr", {}, row);
}

std::string without_indent(const std::string& text) {
  const std::size_t first = text.find_first_not_of(' ');
  return first == std::string::npos ? "" : text.substr(first);
}

/// How words stand on a page, by how they stand in the text.
std::string look_of(const Words& words) {
  constexpr std::size_t item_indent = 4;
  if (words.text.starts_with("warning: ")) return "warning";
  const std::size_t indent = words.text.find_first_not_of(' ');
  return indent == 0 ? "" : indent >= item_indent ? "item" : "remark";
}

Markup markup_of(const Words& words, const std::string&) {
  return paragraph(look_of(words), without_indent(words.text));
}

Markup markup_of(const Code& code, const std::string&) {
  std::string lines;
  for (const std::string& line : code.lines) lines += line + "\n";
  return element("pre", {}, words_markup(lines));
}

Markup markup_of(const Grid& grid, const std::string& caption) { return table_markup(grid, caption); }

Markup markup_of(const Gap&, const std::string&) { return {}; }

}  // namespace

Markup hidden(const std::string& words) {
  return words.empty() ? Markup() : element("span", {{"class", "hidden"}}, words_markup(words));
}

Markup set(const std::string& words) { return words_markup(typeset(words)); }

Markup paragraphs(const std::vector<std::string>& sentences) { return paragraphs_of("", sentences); }

Markup remarks_markup(const std::vector<std::string>& sentences) { return paragraphs_of("remark", sentences); }

Markup terms_markup(const std::vector<Term>& terms) {
  Markup list;
  for (const auto& [name, meaning] : terms) list += element("dt", {}, set(name)) + element("dd", {}, set(meaning));
  return list.empty() ? list : element("dl", {}, list);
}

Markup section(const std::string& id, const std::string& title, const Markup& content) {
  return element("section", {{"aria-labelledby", id}}, element("h2", {{"id", id}}, set(title)) + content);
}

Markup heading_cell(const Markup& content, const std::string& look) {
  return look.empty() ? element("th", {{"scope", "col"}}, content)
                      : element("th", {{"scope", "col"}, {"class", look}}, content);
}

Markup table_markup(const Grid& grid, const std::string& caption) {
  Markup rows;
  for (const auto& row : grid.rows) rows += body_row(grid.columns, row);
  const Markup table = element("table", {{"class", "plain"}}, header_row(grid.columns) + element("tbody", {}, rows));
  return element(
      "div", {{"class", "scrolls"}, {"tabindex", "0"}, {"role", "region"}, {"aria-label", "table: " + caption}}, table);
}

Markup picture_markup(const std::string& title, const std::string& said, double height_px, const Markup& picture) {
  return element("svg", {{"width", "100%"}, {"height", height_px}, {"role", "img"}},
                 element("title", {}, set(title)) + element("desc", {}, set(said)) + picture);
}

Markup prose_markup(const Prose& prose, const std::string& caption) {
  Markup markup;
  for (const Part& part : prose.parts())
    markup += std::visit([&](const auto& each) { return markup_of(each, caption); }, part);
  return markup;
}

std::string html_of(const Page& page) {
  const std::string about = page.above.empty() ? "windway" : page.above;
  const std::string title = !page.title.empty() ? page.title : about + ": " + page.heading;
  const Markup head = element("head", {},
                              leaf("meta", {{"charset", "utf-8"}}) +
                                  leaf("meta", {{"name", "viewport"}, {"content", "width=device-width"}}) +
                                  leaf("meta", {{"name", "color-scheme"}, {"content", "light dark"}}) +
                                  element("title", {}, set(title)) + style_markup(page_style));
  const Markup patterns =
      element("svg", {{"width", 0.0}, {"height", 0.0}, {"class", "hidden"}, {"aria-hidden", "true"}}, hatching());
  const Markup header =
      element("header", {},
              (page.above.empty() ? Markup() : paragraph("above", page.above)) + element("h1", {}, set(page.heading)));
  const std::vector<Attribute> look =
      page.look.empty() ? std::vector<Attribute>{} : std::vector<Attribute>{{"class", page.look}};
  const Markup body = element("body", {}, patterns + element("main", look, header + page.content));
  return "<!DOCTYPE html>\n" + element("html", {{"lang", "en"}}, head + body).text() + "\n";
}

Headline headline_of(const std::string& sentences) {
  constexpr std::size_t longest_cut = 70, longest = 110;
  const std::size_t colon = sentences.find(": "), stop = sentences.find(". ");
  const bool is_cut_at_colon = colon <= longest_cut && colon < stop;
  const std::size_t end = is_cut_at_colon ? colon : std::min(stop, sentences.size());
  if (end > longest) return {"", sentences};
  std::string heading = sentences.substr(0, end);
  if (heading.ends_with('.')) heading.pop_back();
  std::string rest = end + 2 < sentences.size() ? sentences.substr(end + 2) : "";
  if (!rest.empty()) rest[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(rest[0])));
  return {heading, rest};
}

}  // namespace windway
