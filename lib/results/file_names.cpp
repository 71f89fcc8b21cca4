// SPDX-License-Identifier: GPL-3.0-or-later
#include "results/file_names.hpp"

#include <utf8proc.h>

#include <cstdlib>
#include <map>
#include <memory>
#include <set>

#include "input/digest.hpp"

namespace windway {
namespace {

constexpr std::size_t most_bytes = 100;

bool is_letter_or_figure(utf8proc_int32_t code_point) {
  const utf8proc_category_t category = utf8proc_category(code_point);
  return (category >= UTF8PROC_CATEGORY_LU && category <= UTF8PROC_CATEGORY_NO);  // letters, their marks, numbers
}

bool may_stay(utf8proc_int32_t code_point) {
  return code_point == '-' || code_point == '_' || code_point == '.' || is_letter_or_figure(code_point);
}

std::string good_name(const std::string& text) {
  const auto* bytes = reinterpret_cast<const utf8proc_uint8_t*>(text.data());
  std::string name;
  for (std::size_t at = 0; at < text.size();) {
    utf8proc_int32_t code_point = 0;
    const utf8proc_ssize_t length =
        utf8proc_iterate(bytes + at, static_cast<utf8proc_ssize_t>(text.size() - at), &code_point);
    const std::size_t read = length > 0 ? static_cast<std::size_t>(length) : 1;
    const std::string part = length > 0 && may_stay(code_point) ? text.substr(at, read) : "_";
    if (name.size() + part.size() > most_bytes) break;
    name += part;
    at += read;
  }
  if (name.empty()) return "_";
  if (name.front() == '.' || name.front() == '-') name.front() = '_';
  return name;
}

/// The name as a disk that knows no capital letters takes it.
std::string folded(const std::string& name) {
  const auto free_text = [](utf8proc_uint8_t* text) { std::free(text); };  // NOLINT: utf8proc gives it from malloc
  const std::unique_ptr<utf8proc_uint8_t, decltype(free_text)> text(
      utf8proc_NFKC_Casefold(reinterpret_cast<const utf8proc_uint8_t*>(name.c_str())), free_text);
  return text ? reinterpret_cast<const char*>(text.get()) : name;
}

/// The name with so many digits of the text's own sum that no other file is called so.
std::string told_apart(const std::string& text, std::set<std::string>& taken) {
  constexpr std::size_t fewest_digits = 8;
  const std::string sum = sha256_of_text(text);
  std::string name;
  for (std::size_t digits = fewest_digits; digits <= sum.size(); ++digits) {
    name = good_name(text) + "-" + sum.substr(0, digits);
    if (taken.insert(folded(name)).second) break;
  }
  return name;
}

}  // namespace

std::vector<std::string> file_names_of(const std::vector<std::string>& texts) {
  std::map<std::string, int> good;  // how many texts that are good names are alike
  for (const std::string& text : texts)
    if (good_name(text) == text) ++good[folded(text)];
  const auto is_itself = [&](const std::string& text) { return good_name(text) == text && good[folded(text)] == 1; };
  std::set<std::string> taken;
  for (const std::string& text : texts)
    if (is_itself(text)) taken.insert(folded(text));
  std::vector<std::string> names;
  for (const std::string& text : texts) names.push_back(is_itself(text) ? text : told_apart(text, taken));
  return names;
}

}  // namespace windway
