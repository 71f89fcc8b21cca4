// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <algorithm>
#include <iterator>
#include <string>
#include <utility>
#include <vector>

#include "holds/holds.hpp"
#include "pitch/pitch_track.hpp"
#include "recording/recording.hpp"

namespace windway::external_tests {

/// windway's answer for a sound file that knows of no instrument: every held note.
inline std::vector<Hold> holds_of_file(const std::string& path) {
  Recording recording(path);
  PitchTracker tracker(recording, {});
  std::vector<Hold> holds;
  while (const auto chapter = tracker.next_chapter())
    std::ranges::move(holds_of_chapter(*chapter, {}).holds, std::back_inserter(holds));
  return without_faint(std::move(holds));
}

}  // namespace windway::external_tests
