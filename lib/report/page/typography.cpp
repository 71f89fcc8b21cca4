// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/page/typography.hpp"

#include <cctype>
#include <string_view>

namespace windway {
namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_word(char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_' || c == '/' || c == '.'; }

char at(std::string_view text, std::size_t place) { return place < text.size() ? text[place] : '\0'; }

/// A minus: before a digit, and after a blank or a bracket.
bool is_minus(std::string_view text, std::size_t place) {
  if (text[place] != '-') return false;
  const char before = place == 0 ? ' ' : text[place - 1];
  return is_digit(at(text, place + 1)) && (before == ' ' || before == '(');
}

/// The letter of a note with its sign begins here: "F#5", "Bb", "Bb5".
bool is_altered_note(std::string_view text, std::size_t place) {
  const char sign = at(text, place + 1);
  if (text[place] < 'A' || text[place] > 'H' || (sign != '#' && sign != 'b')) return false;
  const bool starts_word = place == 0 || !is_word(text[place - 1]);
  std::size_t end = place + 2;
  if (at(text, end) == '-') ++end;
  while (is_digit(at(text, end))) ++end;
  const bool ends_word = !is_word(at(text, end)) || (at(text, end) == '.' && !is_word(at(text, end + 1)));
  return starts_word && ends_word;
}

/// A blank that must not break: after "±", or between a figure and a short unit.
bool binds(std::string_view text, std::size_t place) {
  if (text.substr(0, place).ends_with("±")) return true;
  if (place == 0 || !is_digit(text[place - 1])) return false;
  constexpr std::size_t longest_unit = 2;
  std::size_t end = place + 1;
  while (std::isalpha(static_cast<unsigned char>(at(text, end))) != 0) ++end;
  const std::string_view unit = text.substr(place + 1, end - place - 1);
  return unit == "mm" || unit == "Hz" || unit == "s" || unit == "dB" ||
         (unit.empty() && text.substr(end, longest_unit) == "°");
}

}  // namespace

std::string typeset(std::string_view written) {
  std::string set;
  set.reserve(written.size() + written.size() / 8);  // signs and blanks that bind take two bytes or three for one
  for (std::size_t place = 0; place < written.size(); ++place) {
    if (is_minus(written, place)) {
      set += "−";
    } else if (is_altered_note(written, place)) {
      set += written[place];
      set += at(written, ++place) == '#' ? "♯" : "♭";
    } else if (written[place] == ' ' && binds(written, place)) {
      set += "\u00A0";
    } else {
      set += written[place];
    }
  }
  return set;
}

}  // namespace windway
