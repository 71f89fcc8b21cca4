// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

#include "measurement.hpp"

namespace windway {

/// True where the file begins as JSON does; a sound file never does. False where it cannot be opened, and for a pipe,
/// which to look at would take its first bytes away.
bool is_saved_result(const std::string& path);

/// Reads a result that `windway measure --format json` has saved (schema windway.measurement.v1). What JSON does not
/// carry stays empty: the curves of the holds, their breath noise and colour. Keys that an older windway did not write
/// keep their defaults. Throws Error (kind recording) where the file cannot be read or is no such result.
Measurement read_measurement(const std::string& path);

/// The same from the text of the file; `name` stands for it in errors.
Measurement measurement_from_json(const std::string& text, const std::string& name);

}  // namespace windway
