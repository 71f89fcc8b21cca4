// SPDX-License-Identifier: GPL-3.0-or-later
#include "manifest/manifest_cell.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "error.hpp"
#include "manifest/recorded_cell.hpp"
#include "units/read_number.hpp"

namespace windway {
namespace {

/// A long cell only by its beginning.
std::string quoted(const std::string& content) {
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
  const auto value = number_in(text);
  if (!value) {
    const bool has_comma = text.find(',') != std::string::npos;
    refuse(quoted(content) + " is not a number; " + (has_comma ? "write it with a decimal point: " : "") + wanted);
  }
  if (!(*value >= least && *value <= most)) refuse(quoted(content) + " is out of range; " + wanted);
  return *value;
}

int ManifestCell::whole_number() const {
  if (const auto value = whole_number_in(content)) return *value;
  refuse(quoted(content) + " is not a whole number; write digits only, as in 2, or leave the cell empty");
}

std::string ManifestCell::recorded_at() const {
  if (const auto time = recorded_at_in(content)) return *time;
  refuse(quoted(content) +
         " is not an ISO 8601 date; write it as in 2026-11-25 or 2026-11-25T09:30, or leave the cell empty");
}

void ManifestCell::refuse(const std::string& what) const {
  throw Error(ErrorKind::usage, fmt::format("{}, line {}, {}: {}", file, line, column, what));
}

}  // namespace windway
