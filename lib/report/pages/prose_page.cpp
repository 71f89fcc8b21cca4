// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/pages/prose_page.hpp"

#include <variant>

namespace windway {
namespace {

/// The parts up to the first table, or all of them where there is none, and the rest. A warning is no part of the rest.
struct Divided {
  std::string first;
  Prose before;
  Prose after;
};

Divided divided(const Prose& prose) {
  Divided parts;
  bool has_table = false;
  for (const Part& part : prose.parts()) {
    const Words* words = std::get_if<Words>(&part);
    has_table = has_table || std::holds_alternative<Grid>(part);
    const bool is_warning = words != nullptr && words->text.starts_with("warning: ");
    if (words != nullptr && parts.first.empty() && !has_table)
      parts.first = words->text;
    else
      (has_table && !is_warning ? parts.after : parts.before) += Prose(part);
  }
  return parts;
}

}  // namespace

std::string page_of(const Prose& prose, const ProsePage& form, const Facts& facts, const PageSource& source) {
  const Divided parts = divided(prose);
  const Headline headline = headline_of(parts.first);
  Page page{form.above, headline.heading, "", paragraphs({headline.rest})};
  if (page.heading.empty()) page.heading = form.above, page.above.clear();
  page.content += prose_markup(parts.before, form.tables_title) + form.figures;
  if (!parts.after.empty())
    page.content += section("figures", form.tables_title, prose_markup(parts.after, form.tables_title));
  page.content += basis_section(facts, source);
  return html_of(page);
}

}  // namespace windway
