// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "measurement.hpp"

namespace windway::fuzz {

/// Ends the program with a finding where a figure of the measurement is not finite or is out of its bounds, holds are
/// not in order or not within their take, or the head would go beyond its limits; and writes every report of it.
void require_sound(const Measurement& measurement);

/// Writes every report of the measurement: text, CSV, JSON, page, pictures, sheet.
void write_reports(const Measurement& measurement);

}  // namespace windway::fuzz
