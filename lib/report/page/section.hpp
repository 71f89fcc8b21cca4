// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "report/page/markup.hpp"
#include "report/wording/prose.hpp"

namespace windway {

/// Words for those who hear the page; they are not seen.
Markup hidden(const std::string& words);

/// Words as print has them (page/typography.hpp).
Markup set(const std::string& words);

/// Sentences, a paragraph each; empty ones are left out.
Markup paragraphs(const std::vector<std::string>& sentences);
/// The same, small: remarks on what stands above them.
Markup remarks_markup(const std::vector<std::string>& sentences);

/// A name and what is said of it.
struct Term {
  std::string name;
  std::string meaning;
};
/// A list of them; empty of none.
Markup terms_markup(const std::vector<Term>& terms);

/// A part of the page under a heading. `id` is the heading's.
Markup section(const std::string& id, const std::string& title, const Markup& content);

/// The heading of a column.
Markup heading_cell(const Markup& content, const std::string& look = "");

/// A table that scrolls sideways by itself where it is wide. `caption` names it for those who hear the page; a column
/// without a header is part of the one before it.
Markup table_markup(const Grid& grid, const std::string& caption);

/// A picture with its whole meaning in words: `said` is read to those who do not see it.
Markup picture_markup(const std::string& title, const std::string& said, double height_px, const Markup& picture);

/// Sentences and tables of a report, as a part of a page. Remarks stand small, warnings are marked.
Markup prose_markup(const Prose& prose, const std::string& caption);

/// A whole page: one file, no script, nothing fetched; the same page on a phone, on a desktop, in the dark and on A4.
/// `above` stands over the heading: what the page is about.
struct Page {
  std::string above;
  std::string heading;
  std::string title;  ///< of the window; empty: `above` and `heading`
  Markup content;
  std::string look{};  ///< for the style sheet: "sheet" is one printed page
};
std::string html_of(const Page& page);

/// A first sentence as a heading and what it goes on with: "Draw the head out 1.2 mm (± 0.1): the whole scale comes
/// down." gives "Draw the head out 1.2 mm (± 0.1)" and "The whole scale comes down."; of several sentences the first is
/// the heading. It is empty where that one is too long.
struct Headline {
  std::string heading;
  std::string rest;
};
Headline headline_of(const std::string& sentences);

}  // namespace windway
