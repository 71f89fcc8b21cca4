// SPDX-License-Identifier: GPL-3.0-or-later
#include "manifest/recorded_cell.hpp"

#include <fmt/format.h>

#include <chrono>
#include <regex>

#include "input/recorded_at.hpp"
#include "units/read_number.hpp"

namespace windway {
namespace {

constexpr std::size_t longest_text = 40;  // std::regex recurses with every character

/// "+01:30", "-0130", "+01" as minutes; empty beyond the largest offset in use, UTC+14 (ISO 8601 sets no limit).
std::optional<std::chrono::minutes> offset_in(const std::string& zone) {
  const int hours = *whole_number_in(zone.substr(1, 2));
  const int minutes = zone.size() > 3 ? *whole_number_in(zone.substr(zone.size() - 2)) : 0;
  if (hours > 14 || minutes > 59) return std::nullopt;
  const std::chrono::minutes offset = std::chrono::hours(hours) + std::chrono::minutes(minutes);
  return zone.front() == '-' ? -offset : offset;
}

/// The time "2026-11-25T09:30" or "2026-11-25T09:30:15" minus the offset: in UTC.
std::string in_utc(const std::string& time, std::chrono::minutes offset) {
  using namespace std::chrono;
  const auto number = [&time](std::size_t at, std::size_t count) { return *whole_number_in(time.substr(at, count)); };
  const sys_days day = year{number(0, 4)} / number(5, 2) / number(8, 2);
  const auto minute = day + hours(number(11, 2)) + minutes(number(14, 2)) - offset;
  const auto utc_day = floor<days>(minute);
  const year_month_day date{utc_day};
  const hh_mm_ss clock{minute - utc_day};
  return fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}{}Z", static_cast<int>(date.year()),
                     static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()), clock.hours().count(),
                     clock.minutes().count(), time.substr(16));
}

}  // namespace

std::optional<std::string> recorded_at_in(const std::string& cell) {
  static const std::regex shape(
      R"((\d{4}(?:-\d{2}(?:-\d{2})?)?)(?:[T ](\d{2}:\d{2}(?::\d{2})?)(?:[.,]\d+)?(Z|[+-]\d{2}(?::?\d{2})?)?)?)");
  std::smatch parts;
  if (cell.size() > longest_text || !std::regex_match(cell, parts, shape)) return std::nullopt;
  const bool has_time = parts[2].matched;
  auto read = iso_8601(parts[1].str() + (has_time ? "T" + parts[2].str() : ""));
  if (!read || read->size() != static_cast<std::size_t>(parts[1].length() + (has_time ? 1 + parts[2].length() : 0)))
    return std::nullopt;  // no such date or time
  if (!parts[3].matched) return read;
  if (parts[3].str() == "Z") return *read + "Z";
  const auto offset = offset_in(parts[3].str());
  if (!offset) return std::nullopt;
  return in_utc(*read, *offset);
}

std::string day_of(const std::string& recorded_at) {
  constexpr std::size_t letters = 10;
  return recorded_at.size() < letters ? "" : recorded_at.substr(0, letters);
}

std::string monday_of(const std::string& recorded_at) {
  using namespace std::chrono;
  const std::string day = day_of(recorded_at);
  if (day.empty()) return "";
  const auto number = [&day](std::size_t at, std::size_t count) { return *whole_number_in(day.substr(at, count)); };
  const sys_days date = year{number(0, 4)} / number(5, 2) / number(8, 2);
  const year_month_day monday{date - (weekday{date} - Monday)};
  return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(monday.year()), static_cast<unsigned>(monday.month()),
                     static_cast<unsigned>(monday.day()));
}

std::string month_of(const std::string& recorded_at) {
  constexpr std::size_t letters = 7;
  return recorded_at.size() < letters ? "" : recorded_at.substr(0, letters);
}

std::string without_zone(const std::string& recorded_at) {
  return recorded_at.ends_with('Z') ? recorded_at.substr(0, recorded_at.size() - 1) : recorded_at;
}

bool is_recorded_before(const std::string& one, const std::string& other) {
  const std::string first = without_zone(one);
  const std::string second = without_zone(other);
  return first < second && !second.starts_with(first);
}

}  // namespace windway
