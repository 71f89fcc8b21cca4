// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "pitch/pitch_track.hpp"

namespace windway {

/// Has a lossy codec left out the noise under the tones? There it then lies below the noise of silence, which nothing
/// else brings about, and tells nothing of the breath. `cents`: the pitch of each frame that is tonal. False where too
/// little silence is heard to tell.
bool noise_is_left_out(const PitchTrack& track, const std::vector<std::optional<double>>& cents);

}  // namespace windway
