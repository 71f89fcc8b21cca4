// SPDX-License-Identifier: GPL-3.0-or-later
#include "input/recorded_at.hpp"

#include <chrono>

namespace windway {
namespace {

/// Parses a text from its front.
class Reader {
 public:
  explicit Reader(std::string_view text) : text_(text) {}

  /// Reads exactly `count` digits, else nothing.
  std::optional<std::string> digits(std::size_t count) {
    if (text_.size() < count) return std::nullopt;
    const std::string_view taken = text_.substr(0, count);
    if (taken.find_first_not_of("0123456789") != std::string_view::npos) return std::nullopt;
    text_.remove_prefix(count);
    return std::string(taken);
  }

  /// Reads one character of `set` and two digits, else nothing.
  std::optional<std::string> part(std::string_view set) {
    if (text_.empty() || set.find(text_.front()) == std::string_view::npos) return std::nullopt;
    const std::string_view before = text_;
    text_.remove_prefix(1);
    std::optional<std::string> number = digits(2);
    if (!number) text_ = before;
    return number;
  }

  std::string_view rest() const { return text_; }

 private:
  std::string_view text_;
};

constexpr std::string_view date_separators = "-:/._ ";  // the bext chunk allows several (EBU Tech 3285)

bool on_the_calendar(const std::string& year, const std::string& month, const std::string& day) {
  using namespace std::chrono;
  const year_month_day date{std::chrono::year{std::stoi(year)},
                            std::chrono::month{static_cast<unsigned>(std::stoi(month))},
                            std::chrono::day{static_cast<unsigned>(std::stoi(day))}};
  return date.ok() && std::stoi(year) >= 1900;  // clocks that were never set give 0000 or 0001
}

/// "" where no valid time of day follows.
std::string time_of_day(Reader& reader) {
  const auto hour = reader.part("T ");
  const auto minute = hour ? reader.part(":-._") : std::nullopt;
  if (!minute || std::stoi(*hour) > 23 || std::stoi(*minute) > 59) return "";
  const auto second = reader.part(":-._");
  const std::string seconds = second && std::stoi(*second) <= 60 ? ":" + *second : "";
  return "T" + *hour + ":" + *minute + seconds + (reader.rest().starts_with("Z") ? "Z" : "");
}

}  // namespace

std::optional<std::string> iso_8601(std::string_view text) {
  Reader reader(text);
  auto year = reader.digits(4);
  if (!year) return std::nullopt;
  const auto month = reader.part(date_separators);
  const auto day = month ? reader.part(date_separators) : std::nullopt;
  if (!on_the_calendar(*year, month.value_or("01"), day.value_or("01"))) return std::nullopt;
  if (!month) return year;
  if (!day) return *year + "-" + *month;
  return *year + "-" + *month + "-" + *day + time_of_day(reader);
}

}  // namespace windway
