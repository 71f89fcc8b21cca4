// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

namespace windway::report_tests {

/// A JSON Schema of windway with its records as their visited lists of fields describe them (record/field.hpp); all
/// else as in `schema`, the text of the shipped file.
std::string described_schema(const std::string& schema);

}  // namespace windway::report_tests
