// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "measurement.hpp"

namespace windway {

/// The whole job: recording, pitch track, holds, notes, breath response, compromise. Several takes of one instrument
/// are pooled. Throws Error where a take cannot be read or holds no note (kind recording), or where the octave of the
/// lowest note contradicts what was played (kind usage). `paths` must not be empty.
Measurement measure(const std::vector<std::string>& paths, const MeasureSettings& settings);

/// The same notes against other targets, and with what is said of the head: `settings` are those of `found` but for
/// `tuning`, `a4_u95_hz` and `head`; where the maker means the notes is as the instrument of `found` says.
Measurement retargeted(Measurement found, const MeasureSettings& settings);

}  // namespace windway
