// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

namespace windway::report_tests {

/// The JSON Schema of a measurement with its records as their visited lists of fields describe them (note_fields.hpp,
/// measurement_fields.hpp); all else as in `schema`, the text of the shipped file.
std::string described_schema(const std::string& schema);

}  // namespace windway::report_tests
