// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "measurement.hpp"
#include "report/pages/page_source.hpp"

namespace windway {

/// What a recording is: its name, length, rate and date, its SHA-256 where it was made.
Facts facts_of(const TakeInfo& take);

/// What a measurement rests on: recordings, target, air, head.
Facts facts_of(const Measurement& measurement);

}  // namespace windway
