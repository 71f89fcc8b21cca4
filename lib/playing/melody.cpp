// SPDX-License-Identifier: GPL-3.0-or-later
#include "playing/melody.hpp"

#include <algorithm>

#include "units/units.hpp"

namespace windway {
namespace {

constexpr float least_clarity = 0.35F;  // as for holds: a flute in loud breath noise shows more, noise alone less
constexpr double loud_share = 0.9;      // of the sounding frames are softer than what counts as loud
constexpr float faint_under_db = 32;    // a melody's softest notes stand nearer to its loud ones

MelodyFrame melody_frame(const PitchFrame& frame) {
  if (!frame.tone || frame.tone->clarity < least_clarity) return {};
  double power = 0;
  for (const float a : frame.tone->amplitude) power += 0.5 * a * a;
  if (power <= 0) return {};
  return {static_cast<float>(cents_between(440.0, frame.tone->f0_hz)), static_cast<float>(db_from_power(power))};
}

}  // namespace

std::size_t Melody::frames_in(double seconds) const {
  return static_cast<std::size_t>(seconds / hop_s + 0.5);  // NOLINT(bugprone-incorrect-roundings)
}

void Melody::add(const PitchTrack& chapter) {
  if (frames.empty()) {
    first_s = chapter.first_s;
    hop_s = chapter.hop_s;
  }
  frames.reserve(frames.size() + chapter.frames.size());
  for (const PitchFrame& frame : chapter.frames) frames.push_back(melody_frame(frame));
}

Melody without_faint(Melody melody) {
  std::vector<float> levels;
  for (const MelodyFrame& frame : melody.frames)
    if (frame.sounds()) levels.push_back(frame.level_db);
  if (levels.empty()) return melody;
  const auto loud = levels.begin() + static_cast<long>(loud_share * static_cast<double>(levels.size() - 1));
  std::nth_element(levels.begin(), loud, levels.end());
  const float least_db = *loud - faint_under_db;
  for (MelodyFrame& frame : melody.frames)
    if (frame.level_db < least_db) frame = {};
  return melody;
}

}  // namespace windway
