// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/page/parsed_page.hpp"

#include <gtest/gtest.h>

#include <set>
#include <string_view>

namespace windway::report_tests {
namespace {

std::string words_of(const pugi::xml_node& node) {
  std::string words;
  for (const pugi::xpath_node& text : node.select_nodes(".//text()")) words += text.node().value();
  return words;
}

/// What a `url(...)` or an href names.
std::vector<std::string> references_of(const pugi::xml_node& node) {
  std::vector<std::string> references;
  for (const pugi::xml_attribute& attribute : node.attributes()) {
    const std::string_view name = attribute.name();
    if (name == "href" || name == "src" || name == "xlink:href" || name == "srcset")
      references.emplace_back(attribute.value());
  }
  return references;
}

}  // namespace

ParsedPage::ParsedPage(const std::string& text) {
  constexpr unsigned strictly = pugi::parse_default | pugi::parse_ws_pcdata | pugi::parse_doctype;
  const pugi::xml_parse_result result = document_.load_string(text.c_str(), strictly);
  EXPECT_TRUE(result) << result.description() << " at " << text.substr(static_cast<std::size_t>(result.offset), 80);
}

std::string ParsedPage::words(const std::string& path) const {
  return words_of(document_.select_node(path.c_str()).node());
}

std::vector<std::string> ParsedPage::all_words(const std::string& path) const {
  std::vector<std::string> words;
  for (const pugi::xpath_node& found : all(path)) words.push_back(words_of(found.node()));
  return words;
}

std::vector<std::string> ParsedPage::faults() const {
  std::vector<std::string> faults;
  std::set<std::string> ids;
  for (const pugi::xpath_node& found : all("//*")) {
    const pugi::xml_node node = found.node();
    const std::string id = node.attribute("id").value();
    if (!id.empty() && !ids.insert(id).second) faults.push_back("id twice: " + id);
    if (std::string_view(node.name()) == "script") faults.emplace_back("a script");
    for (const pugi::xml_attribute& attribute : node.attributes())
      if (std::string_view(attribute.name()).starts_with("on")) faults.emplace_back("a handler");
    for (const std::string& reference : references_of(node))
      if (!reference.starts_with('#')) faults.push_back("fetches " + reference);
  }
  for (const pugi::xpath_node& found : all("//@aria-labelledby"))
    if (!ids.contains(found.attribute().value()))
      faults.push_back(std::string("no such id: ") + found.attribute().value());
  const std::string style = words("//style");
  for (std::size_t at = style.find("url("); at != std::string::npos; at = style.find("url(", at + 1))
    if (style[at + 4] != '#') faults.emplace_back("the style fetches something");
  if (style.find("@import") != std::string::npos) faults.emplace_back("the style imports something");
  return faults;
}

}  // namespace windway::report_tests
