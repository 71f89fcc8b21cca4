// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/page/markup.hpp"

#include <utf8proc.h>

#include <algorithm>
#include <cstddef>

#include "report/wording/figures.hpp"

namespace windway {

/// The one door into a Markup.
class MarkupWriter {
 public:
  void reserve(std::size_t bytes) { markup_.text_.reserve(bytes); }
  void add(std::string_view written) { markup_.text_ += written; }
  void add(const Markup& markup) { markup_ += markup; }

  /// XML 1.0, 2.2 and 2.4: which characters there may be, and which stand for something else.
  void add_escaped(std::string_view value) {
    const auto* bytes = reinterpret_cast<const utf8proc_uint8_t*>(value.data());
    for (std::size_t at = 0; at < value.size();) {
      const auto special = std::find_if_not(value.begin() + static_cast<std::ptrdiff_t>(at), value.end(), is_plain);
      const auto plain = static_cast<std::size_t>(special - value.begin()) - at;
      add(value.substr(at, plain));
      at += plain;
      if (at == value.size()) return;
      utf8proc_int32_t code_point = 0;
      const utf8proc_ssize_t length =
          utf8proc_iterate(bytes + at, static_cast<utf8proc_ssize_t>(value.size() - at), &code_point);
      const auto bytes_read = static_cast<std::size_t>(length > 0 ? length : 1);
      add(length > 0 && is_allowed(code_point) ? escaped(value.substr(at, bytes_read)) : replacement);
      at += bytes_read;
    }
  }

  void open(MarkupName name, const Attributes& attributes) {
    add("<");
    add(name.text());
    for (const Attribute& attribute : attributes) {
      add(" ");
      add(attribute.name.text());
      add("=\"");
      add_escaped(attribute.value);
      add("\"");
    }
  }

  Markup take() { return std::move(markup_); }

 private:
  static constexpr std::string_view replacement = "\xEF\xBF\xBD";

  /// Printable ASCII that stands for itself.
  static bool is_plain(char character) {
    return character >= ' ' && character <= '~' && character != '&' && character != '<' && character != '>' &&
           character != '"';
  }

  static bool is_allowed(utf8proc_int32_t code_point) {
    constexpr utf8proc_int32_t first_printable = 0x20, delete_character = 0x7F, last_control = 0x9F,
                               first_non_character = 0xFFFE, last_non_character = 0xFFFF;
    if (code_point == '\n') return true;
    return code_point >= first_printable && (code_point < delete_character || code_point > last_control) &&
           code_point != first_non_character && code_point != last_non_character;
  }

  static std::string_view escaped(std::string_view character) {
    switch (character.front()) {
      case '&':
        return "&amp;";
      case '<':
        return "&lt;";
      case '>':
        return "&gt;";
      case '"':
        return "&quot;";
      default:
        return character;
    }
  }

  Markup markup_;
};

Attribute::Attribute(MarkupName of, double number) : name(of), value(coordinate(number)) {}

Markup words_markup(std::string_view words) {
  MarkupWriter writer;
  writer.add_escaped(words);
  return writer.take();
}

Markup element(MarkupName name, const Attributes& attributes, const Markup& content) {
  constexpr std::size_t usual_tags = 120;  // bytes; more makes one further copy
  MarkupWriter writer;
  writer.reserve(content.text().size() + usual_tags);
  writer.open(name, attributes);
  writer.add(">");
  writer.add(content);
  writer.add("</");
  writer.add(name.text());
  writer.add(">");
  return writer.take();
}

Markup leaf(MarkupName name, const Attributes& attributes) {
  MarkupWriter writer;
  writer.open(name, attributes);
  writer.add("/>");
  return writer.take();
}

Markup style_markup(MarkupName css) {
  MarkupWriter writer;
  writer.add("<style>");
  writer.add(css.text());
  writer.add("</style>");
  return writer.take();
}

std::string coordinate(double value) {
  std::string figure = fixed(value, 2);
  figure.erase(figure.find_last_not_of('0') + 1);
  if (figure.ends_with('.')) figure.pop_back();
  return figure;
}

std::string percent(double value) { return coordinate(value) + "%"; }

}  // namespace windway
