// SPDX-License-Identifier: GPL-3.0-or-later
#include "batch/serial_pattern.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <filesystem>
#include <set>
#include <string_view>

#include "error.hpp"

namespace windway {
namespace {

constexpr std::array<const char*, 7> fields{"serial", "stage", "lot", "material", "head", "operator", "retake"};

[[noreturn]] void refuse(const std::string& pattern, const std::string& what) {
  throw Error(ErrorKind::usage, "the pattern '" + pattern + "' " + what + "; as in '{serial}_{stage}_{retake}'");
}

void check(const SerialPattern& pattern) {
  std::set<std::string> seen;
  for (std::size_t i = 0; i < pattern.pieces.size(); ++i) {
    const auto& [is_field, text] = pattern.pieces[i];
    if (!is_field) continue;
    if (std::ranges::find(fields, text) == fields.end())
      refuse(pattern.text,
             "has a field {" + text + "}; there are serial, stage, lot, material, head, operator and retake");
    if (!seen.insert(text).second) refuse(pattern.text, "has {" + text + "} twice");
    if (i > 0 && pattern.pieces[i - 1].is_field)
      refuse(pattern.text, "has nothing between {" + pattern.pieces[i - 1].text + "} and {" + text + "}");
  }
  if (!seen.contains("serial")) refuse(pattern.text, "names no {serial}");
}

using Texts = std::vector<std::string_view>;

bool is_number(std::string_view text) {
  return text.size() <= 9 && std::ranges::all_of(text, [](char letter) { return letter >= '0' && letter <= '9'; });
}

/// Every way to read `rest` by the pieces from `piece` on; two are enough to know that there is more than one.
void read_on(const SerialPattern& pattern, std::size_t piece, std::string_view rest, Texts& so_far,
             std::vector<Texts>& ways) {
  if (ways.size() > 1) return;
  if (piece == pattern.pieces.size()) {
    if (rest.empty()) ways.push_back(so_far);
    return;
  }
  const auto& [is_field, text] = pattern.pieces[piece];
  if (!is_field) {
    if (rest.starts_with(text)) read_on(pattern, piece + 1, rest.substr(text.size()), so_far, ways);
    return;
  }
  for (std::size_t length = 1; length <= rest.size(); ++length) {
    const std::string_view field = rest.substr(0, length);
    if (text == "retake" && !is_number(field)) return;
    so_far.push_back(field);
    read_on(pattern, piece + 1, rest.substr(length), so_far, ways);
    so_far.pop_back();
  }
}

void set_field(Subject& subject, const std::string& field, const std::string& content) {
  if (field == "serial") subject.serial = content;
  if (field == "stage") subject.stage = content;
  if (field == "lot") subject.lot = content;
  if (field == "material") subject.material = content;
  if (field == "head") subject.head = content;
  if (field == "operator") subject.operator_name = content;
  if (field == "retake") {
    int number = 0;
    std::from_chars(content.data(), content.data() + content.size(), number);
    subject.retake = number;
  }
}

}  // namespace

SerialPattern serial_pattern(const std::string& pattern) {
  SerialPattern read{pattern, {}};
  for (std::size_t begin = 0; begin < pattern.size();) {
    const bool is_field = pattern[begin] == '{';
    const std::size_t end = pattern.find(is_field ? '}' : '{', begin);
    if (is_field && end == std::string::npos) refuse(pattern, "has a { without its }");
    const std::size_t stop = std::min(end, pattern.size());
    const std::size_t from = begin + (is_field ? 1 : 0);
    read.pieces.push_back({is_field, pattern.substr(from, stop - from)});
    begin = stop + (is_field ? 1 : 0);
  }
  check(read);
  return read;
}

NameReading subject_of(const SerialPattern& pattern, const std::string& path) {
  const std::string stem = std::filesystem::path(path).stem().string();
  std::vector<Texts> ways;
  Texts so_far;
  read_on(pattern, 0, stem, so_far, ways);
  if (ways.empty()) return {std::nullopt, "its name does not fit the pattern '" + pattern.text + "'"};
  if (ways.size() > 1) return {std::nullopt, "its name fits the pattern '" + pattern.text + "' in more than one way"};
  Subject subject;
  auto content = ways.front().begin();
  for (const auto& [is_field, text] : pattern.pieces)
    if (is_field) set_field(subject, text, std::string(*content++));
  return {subject, ""};
}

}  // namespace windway
