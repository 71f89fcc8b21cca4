// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "pitch/pitch_track.hpp"

namespace windway {

/// True if a lossy codec has left out the noise under the tones: it lies below the noise of silence there, which
/// nothing else causes, and says nothing about the breath. `cents`: the pitch of each frame that is tonal. False if the
/// recording has too little silence to compare with.
bool noise_is_left_out(const PitchTrack& track, const std::vector<std::optional<double>>& cents);

}  // namespace windway
