// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "measurement.hpp"
#include "shared_options.hpp"

namespace windway::cli {

/// A saved result under what the call says besides: its targets are set anew for another reference pitch, partner,
/// temperament or instrument that means its notes elsewhere, and a place or travel of the head that it lacks is filled
/// in. Throws Error (kind usage) where the call contradicts what was saved and only the recording could tell. `called`
/// are the settings that `take` gives.
Measurement saved_as_called(Measurement saved, const TakeOptions& take, const MeasureSettings& called);

}  // namespace windway::cli
