// SPDX-License-Identifier: GPL-3.0-or-later
#include "manifest/serial_pattern.hpp"

#include <algorithm>
#include <filesystem>
#include <set>
#include <string_view>

#include "error.hpp"
#include "manifest/sound_endings.hpp"
#include "units/nearest_word.hpp"
#include "units/read_number.hpp"
#include "units/utf8.hpp"

namespace windway {
namespace {

/// The fields of a pattern.
std::vector<std::string> known_fields() {
  std::vector<std::string> fields;
  for (const SubjectText& each : subject_texts) fields.emplace_back(each.name);
  fields.emplace_back("retake");
  return fields;
}

[[noreturn]] void refuse(const std::string& pattern, const std::string& what) {
  throw Error(ErrorKind::usage, "the pattern '" + pattern + "' " + what + "; as in '{serial}_{stage}_{retake}'");
}

std::vector<SerialPattern::Piece> pieces_of(const std::string& pattern) {
  std::vector<SerialPattern::Piece> pieces;
  for (std::size_t begin = 0; begin < pattern.size();) {
    const bool is_field = pattern[begin] == '{';
    const std::size_t from = begin + (is_field ? 1 : 0);
    const std::size_t end = std::min(pattern.find_first_of("{}", from), pattern.size());
    if (is_field && (end == pattern.size() || pattern[end] == '{')) refuse(pattern, "has a { without its }");
    if (!is_field && end < pattern.size() && pattern[end] == '}') refuse(pattern, "has a } without its {");
    pieces.push_back({is_field, pattern.substr(from, end - from)});
    begin = end + (is_field ? 1 : 0);
  }
  return pieces;
}

void check_fields(const SerialPattern& pattern) {
  const std::vector<std::string> fields = known_fields();
  std::set<std::string> seen;
  for (std::size_t i = 0; i < pattern.pieces.size(); ++i) {
    const auto& [is_field, text] = pattern.pieces[i];
    if (!is_field) continue;
    if (std::ranges::find(fields, text) == fields.end()) {
      const auto meant = nearest_word(text, fields);
      refuse(pattern.text, "has an unknown field {" + text + "}; " +
                               (meant ? "did you mean {" + *meant + "}?"
                                      : "known are serial, stage, lot, material, head, operator and retake"));
    }
    if (!seen.insert(text).second) refuse(pattern.text, "has {" + text + "} twice");
    if (i > 0 && pattern.pieces[i - 1].is_field) {
      refuse(pattern.text, "has nothing between {" + pattern.pieces[i - 1].text + "} and {" + text +
                               "}; put a character between them");
    }
  }
  if (!seen.contains("serial")) refuse(pattern.text, "has no {serial}");
}

/// Refuses text that fits no name.
void check_words(const SerialPattern& pattern) {
  if (!is_utf8(pattern.text)) throw Error(ErrorKind::usage, "the pattern of names is not UTF-8 text");
  if (pattern.text.find('/') != std::string::npos)
    refuse(pattern.text, "has a /, but names are read without their folder");
  if (!pattern.pieces.back().is_field && has_sound_ending(pattern.text)) {
    refuse(pattern.text,
           "has the ending " + pattern.text.substr(pattern.text.rfind('.')) + ", but names are read without it");
  }
}

bool can_be(const std::string& field, std::string_view content) {
  return field != "retake" || whole_number_in(content);
}

/// Counts the matches of a name with a pattern, and gives the first and the last.
class NameReader {
 public:
  NameReader(const SerialPattern& pattern, std::string_view name)
      : pieces_(pattern.pieces), name_(name), matches_(pieces_.size() + 1, std::vector<int>(name.size() + 1, 0)) {
    // Backwards, by dynamic programming: time grows with pieces times length squared.
    matches_.back().back() = 1;
    for (std::size_t piece = pieces_.size(); piece-- > 0;)
      for (std::size_t at = 0; at <= name_.size(); ++at) matches_[piece][at] = matches_from(piece, at);
  }

  /// Number of matches: 0, 1, or 2 for more.
  int matches() const { return matches_.front().front(); }

  /// The contents of the fields in the first or the last match.
  std::vector<std::string> contents(bool is_last) const {
    std::vector<std::string> all;
    std::size_t at = 0;
    for (std::size_t piece = 0; piece < pieces_.size(); ++piece) {
      const std::vector<std::size_t> ends = ends_of(piece, at);
      const std::size_t end = is_last ? ends.back() : ends.front();
      if (pieces_[piece].is_field) all.emplace_back(name_.substr(at, end - at));
      at = end;
    }
    return all;
  }

 private:
  /// Ends of the piece from `at` on after which the rest matches.
  std::vector<std::size_t> ends_of(std::size_t piece, std::size_t at) const {
    const auto& [is_field, text] = pieces_[piece];
    const std::size_t first = at + (is_field ? 1 : text.size());
    const std::size_t last = is_field ? name_.size() : first;
    if (!is_field && !name_.substr(at).starts_with(text)) return {};
    std::vector<std::size_t> ends;
    for (std::size_t end = first; end <= last && (!is_field || can_be(text, name_.substr(at, end - at))); ++end)
      if (matches_[piece + 1][end] > 0) ends.push_back(end);
    return ends;
  }

  int matches_from(std::size_t piece, std::size_t at) const {
    int matches = 0;
    for (const std::size_t end : ends_of(piece, at)) matches = std::min(2, matches + matches_[piece + 1][end]);
    return matches;
  }

  const std::vector<SerialPattern::Piece>& pieces_;
  std::string_view name_;
  std::vector<std::vector<int>> matches_;  ///< matches of the rest, by piece and place in the name
};

void set_field(Subject& subject, const std::string& field, const std::string& content) {
  for (const SubjectText& each : subject_texts)
    if (field == each.name) subject.*each.text = content;
  if (field == "retake") subject.retake = whole_number_in(content);
}

std::vector<std::string> fields_of(const SerialPattern& pattern) {
  std::vector<std::string> names;
  for (const auto& [is_field, text] : pattern.pieces)
    if (is_field) names.push_back(text);
  return names;
}

/// "serial HW and stage 0412_raw"
std::string listed(const std::vector<std::string>& names, const std::vector<std::string>& contents) {
  std::string text;
  for (std::size_t i = 0; i < names.size(); ++i) text += (i == 0 ? "" : ", ") + names[i] + " " + contents[i];
  return text;
}

}  // namespace

SerialPattern serial_pattern(const std::string& pattern) {
  SerialPattern read{pattern, pieces_of(pattern)};
  check_fields(read);
  check_words(read);
  return read;
}

NameReading subject_of(const SerialPattern& pattern, const std::string& path) {
  constexpr std::size_t longest_name = 255;  // of a file, on Linux
  const std::string name = std::filesystem::path(path).stem().string();
  if (!is_utf8(name)) return {std::nullopt, "its name is not UTF-8 text"};
  const std::string fit = "the pattern '" + pattern.text + "'";
  if (name.size() > longest_name) return {std::nullopt, "its name does not fit " + fit};
  const NameReader reader(pattern, name);
  if (reader.matches() == 0) return {std::nullopt, "its name does not fit " + fit};
  const std::vector<std::string> names = fields_of(pattern);
  const std::vector<std::string> contents = reader.contents(false);
  if (reader.matches() > 1) {
    return {std::nullopt, "its name fits " + fit + " in more than one way: " + listed(names, contents) + "; or " +
                              listed(names, reader.contents(true))};
  }
  Subject subject;
  for (std::size_t i = 0; i < names.size(); ++i) set_field(subject, names[i], contents[i]);
  return {subject, ""};
}

}  // namespace windway
