// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <initializer_list>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace windway {

/// HTML or SVG. Nothing gets into it but through the functions below, which escape every value; names of elements and
/// attributes are literals of the program. Well-formed as XML too, so that any parser reads it.
class Markup {
 public:
  const std::string& text() const { return text_; }
  bool empty() const { return text_.empty(); }
  Markup& operator+=(const Markup& more) {
    text_ += more.text_;
    return *this;
  }
  friend Markup operator+(Markup one, const Markup& more) { return one += more; }

 private:
  friend class MarkupWriter;
  std::string text_;
};

/// A name that the program itself gives: no value of a run can be one.
class MarkupName {
 public:
  consteval MarkupName(const char* name) : name_(name) {}  // NOLINT(google-explicit-constructor): a literal is a name
  std::string_view text() const { return name_; }

 private:
  std::string_view name_;
};

struct Attribute {
  MarkupName name;
  std::string value;

  Attribute(MarkupName of, std::string text) : name(of), value(std::move(text)) {}
  Attribute(MarkupName of, double number);  ///< in at most two decimals
};

/// Words, escaped. A byte that is no UTF-8 and a control character become U+FFFD.
Markup words_markup(std::string_view words);

/// Attributes where an element is made: of a list of them or of a vector.
class Attributes {
 public:
  Attributes(std::initializer_list<Attribute> list) : all_(list.begin(), list.size()) {}
  Attributes(const std::vector<Attribute>& list) : all_(list) {}  // NOLINT(google-explicit-constructor): it is a view
  auto begin() const { return all_.begin(); }
  auto end() const { return all_.end(); }

 private:
  std::span<const Attribute> all_;
};

/// <name attributes>content</name>
Markup element(MarkupName name, const Attributes& attributes, const Markup& content = {});

/// <name attributes/>: a shape of SVG, or one of HTML's elements that never have content.
Markup leaf(MarkupName name, const Attributes& attributes);

/// The program's own style sheet, which is no value of a run.
Markup style_markup(MarkupName css);

/// "12.5": at most two decimals, a point whatever the locale.
std::string coordinate(double value);

/// "12.5%"
std::string percent(double value);

}  // namespace windway
