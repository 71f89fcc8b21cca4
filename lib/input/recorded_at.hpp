// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace windway {

/// A sound file's date as ISO 8601: "2024-05-01", "2024:05:01 12:30:00", "2024-05-01T12:30Z", "2024" give
/// "2024-05-01", "2024-05-01T12:30:00", "2024-05-01T12:30Z", "2024". Empty where the calendar has no such date.
std::optional<std::string> iso_8601(std::string_view text);

}  // namespace windway
