// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "holds/holds.hpp"
#include "pitch/pitch_track.hpp"
#include "recording/recording.hpp"

namespace windway::external_tests {

/// windway's answer for a sound file that knows of no instrument: every held note.
inline std::vector<Hold> holds_of_file(const std::string& path) {
  Recording recording(path);
  return find_holds(track_pitch(recording, PitchRules{}), HoldRules{});
}

}  // namespace windway::external_tests
