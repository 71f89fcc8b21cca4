// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "measurement.hpp"

namespace windway::report_tests {

/// A measurement made up by hand: a whistle in D, its notes D5, F#5 and A5 measured in full, B5 blown at one strength
/// only, and C6 played though it is not in the scale. The figures hang together only as far as the reports look.
Measurement invented_measurement();

/// The same with the given notes of it only, by index, and their moves.
Measurement with_notes(Measurement measurement, const std::vector<std::size_t>& kept);

}  // namespace windway::report_tests
