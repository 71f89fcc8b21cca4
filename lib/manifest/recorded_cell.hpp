// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>

namespace windway {

/// A date, or date and time, as ISO 8601 writes them, whole and on the calendar: "2026", "2026-11", "2026-11-25",
/// "2026-11-25T09:30", with seconds, with Z; a blank may stand for the T. A time with an offset is given in UTC, so
/// that texts compare: "2026-11-25T09:30+01:00" gives "2026-11-25T08:30Z". Empty for anything else.
std::optional<std::string> recorded_at_in(const std::string& cell);

/// True if the one is certainly before the other; a day is neither before nor after an hour of that day. Both as
/// recorded_at_in returns them; times without a zone compare as if in UTC.
bool is_recorded_before(const std::string& one, const std::string& other);

/// "2026-11-25" of "2026-11-25T08:30"; empty where less than a day is said.
std::string day_of(const std::string& recorded_at);
/// The Monday of that day's week: "2026-11-23".
std::string monday_of(const std::string& recorded_at);
/// "2026-11"; empty where only a year is said.
std::string month_of(const std::string& recorded_at);

/// "2026-11-25T08:30" of "2026-11-25T08:30Z".
std::string without_zone(const std::string& recorded_at);

}  // namespace windway
