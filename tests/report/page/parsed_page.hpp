// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <pugixml.hpp>
#include <string>
#include <vector>

namespace windway::report_tests {

/// A page or a picture as an independent parser reads it. Fails the test where it is not well-formed.
class ParsedPage {
 public:
  explicit ParsedPage(const std::string& text);

  const pugi::xml_document& document() const { return document_; }
  /// Elements of that XPath.
  pugi::xpath_node_set all(const std::string& path) const { return document_.select_nodes(path.c_str()); }
  std::size_t count(const std::string& path) const { return all(path).size(); }
  /// The words of the first element of that XPath, and of all within it.
  std::string words(const std::string& path) const;
  /// Words of all elements of that XPath.
  std::vector<std::string> all_words(const std::string& path) const;

  /// What a page must not have: an id twice, a reference to anything but an id of its own, a script.
  std::vector<std::string> faults() const;

 private:
  pugi::xml_document document_;
};

}  // namespace windway::report_tests
