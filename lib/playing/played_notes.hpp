// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>
#include <optional>
#include <vector>

#include "instrument/instrument.hpp"
#include "playing/melody.hpp"
#include "units/units.hpp"

namespace windway {

/// How one note came out over a whole melody. Cents are deviations from the note's target, + sharp.
struct PlayedPitch {
  int midi = 0;
  int register_number = 1;
  bool in_scale = true;  ///< of the instrument
  double target_hz = 0;
  double sounded_s = 0;   ///< of all its occurrences, ornaments on them left out
  double time_share = 0;  ///< of the time that all notes sound
  int occurrences = 0;
  CentsEstimate median;  ///< over time; of a vibrato the middle. u95: as another such melody would differ
  double lower_quartile_cents = 0;
  double upper_quartile_cents = 0;
  std::optional<double> moderate_cents{};    ///< in the scale take
  std::optional<double> reach_soft_cents{};  ///< likewise, where it was measured
  std::optional<double> reach_hard_cents{};
  std::optional<CentsEstimate> from_take{};  ///< median less that
};

/// The notes, ascending, of what each MIDI number's occurrences say; register, scale and take are left for the caller.
/// A note's u95 comes from how its occurrences differ, drawn towards what all notes together show, so that a note
/// played once has one too.
std::vector<PlayedPitch> played_notes(const std::map<int, std::vector<MelodyNote>>& occurrences,
                                      const Instrument& instrument, const Tuning& tuning);

}  // namespace windway
