// SPDX-License-Identifier: GPL-3.0-or-later
#include "takes/manifest_cell.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <optional>

#include "error.hpp"
#include "takes/recorded_cell.hpp"

namespace windway {
namespace {

std::optional<double> decimal(std::string_view text) {
  double value = 0;
  const char* const end = text.data() + text.size();
  const char* const begin = text.data() + (text.starts_with('+') && !text.starts_with("+-") ? 1 : 0);
  const auto [stop, failure] = std::from_chars(begin, end, value);  // independent of the locale
  if (failure != std::errc{} || stop != end) return std::nullopt;
  return value;
}

/// The content for a sentence; long ones are cut.
std::string told(const std::string& content) {
  constexpr std::size_t most = 40;
  if (content.size() <= most) return content;
  std::size_t end = most;
  while ((static_cast<unsigned char>(content[end]) & 0xC0U) == 0x80U) --end;  // no character of UTF-8 is cut
  return content.substr(0, end) + "...";
}

}  // namespace

double ManifestCell::number(double least, double most, const std::string& unit) const {
  std::string text = content;
  const std::string wanted =
      fmt::format("give a number from {} to {} ({}), or leave the cell empty", least, most, unit);
  if (separator != ',' && std::ranges::count(text, ',') == 1) text[text.find(',')] = '.';
  const auto value = decimal(text);
  if (!value) {
    const bool has_comma = text.find(',') != std::string::npos;
    refuse(told(content) + " is not a number; " + (has_comma ? "write it with a decimal point: " : "") + wanted);
  }
  if (!(*value >= least && *value <= most)) refuse(told(content) + " is out of range; " + wanted);
  return *value;
}

int ManifestCell::whole_number() const {
  constexpr std::size_t most_digits = 9;  // fit an int
  const bool is_digits = std::ranges::all_of(content, [](char letter) { return letter >= '0' && letter <= '9'; });
  int value = 0;
  if (is_digits && content.size() <= most_digits) {
    std::from_chars(content.data(), content.data() + content.size(), value);
    return value;
  }
  refuse(told(content) + " is not a whole number; write digits only, as in 2, or leave the cell empty");
}

std::string ManifestCell::recorded_at() const {
  if (const auto time = recorded_at_in(content)) return *time;
  refuse(told(content) +
         " is not a date as ISO 8601 writes it; as in 2026-11-25 or 2026-11-25T09:30, or leave the cell empty");
}

void ManifestCell::refuse(const std::string& what) const {
  throw Error(ErrorKind::usage, fmt::format("{}, line {}, {}: {}", file, line, column, what));
}

}  // namespace windway
