// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "measurement.hpp"

namespace windway {

inline constexpr auto measurement_schema = "windway.measurement.v1";

// Why a hold is not used.
inline constexpr auto not_in_scale = "not in this scale";
inline constexpr auto how_hard_is_not_known = "how hard it was blown is not known";

/// Whether a result has the loudness of each take and the pitch within each hold, a point each 50 ms: half a kilobyte a
/// second.
enum class Curves { left_out, written };

/// The measurement for programs: one JSON object, schema windway.measurement.v1, keys always all there and in the same
/// order; what was not measured is null, never 0. Each hold, note and warning has a line of its own. A path that is not
/// UTF-8 has U+FFFD for what cannot be said. `program_version` goes into "program".
std::string json_report(const Measurement& measurement, const std::string& program_version,
                        Curves curves = Curves::left_out);

/// One key of that object.
struct JsonMember {
  std::string key;
  std::vector<std::string> texts;  ///< of its value, in one line; of each element where it is an array
  bool is_array = false;
};

/// The object's keys in their order, but those that only the figures need.
std::vector<JsonMember> json_members(const Measurement& measurement, const std::string& program_version);

/// The text of a member's value in one line.
std::string value_of(const JsonMember& member);

}  // namespace windway
