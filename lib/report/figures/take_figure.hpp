// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "measurement.hpp"
#include "report/page/markup.hpp"

namespace windway {

/// The take as it was heard: loudness above, each hold with its note, its blow and its pitch below; what was left out
/// and why. In lines of some seconds that break between notes. Empty where the result has no holds.
Markup take_section(const Measurement& measurement);

}  // namespace windway
