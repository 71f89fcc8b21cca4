// SPDX-License-Identifier: GPL-3.0-or-later
#include "results/file_names.hpp"

#include <utf8proc.h>

#include <cstdlib>
#include <memory>
#include <set>

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

/// The name, or the first of its numbered ones that is not taken yet.
std::string taken(const std::string& name, std::set<std::string>& all) {
  std::string own = name;
  for (int number = 2; !all.insert(folded(own)).second; ++number) own = name + "-" + std::to_string(number);
  return own;
}

}  // namespace

std::vector<std::string> file_names_of(const std::vector<std::string>& texts) {
  std::vector<std::string> names;
  for (const std::string& text : texts) names.push_back(good_name(text));
  std::vector<bool> is_itself;
  for (std::size_t at = 0; at < texts.size(); ++at) is_itself.push_back(names[at] == texts[at]);
  std::set<std::string> all;
  for (const bool come_first : {true, false})
    for (std::size_t at = 0; at < texts.size(); ++at)
      if (is_itself[at] == come_first) names[at] = taken(names[at], all);
  return names;
}

}  // namespace windway
