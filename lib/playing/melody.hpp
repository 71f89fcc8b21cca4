// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "pitch/pitch_track.hpp"
#include "units/units.hpp"

namespace windway {

/// A frame of the pitch track; an hour has 360 000, so it is kept short.
struct MelodyFrame {
  float at_s = 0;   ///< after the note's start
  float cents = 0;  ///< above 440 Hz
};

/// One blown note of a melody, its ornaments left out, before anything is known of the instrument.
struct MelodyNote {
  double start_s = 0;
  double end_s = 0;
  double sounded_s = 0;  ///< without cuts, taps and rolls
  double cents = 0;      ///< median above 440 Hz
  double level_db = 0;   ///< median, dB full scale
  std::vector<MelodyFrame>
      steady;  ///< frames that neither attack, release, a slur nor an ornament touches; at least one
};

/// A whole recorded melody.
struct Melody {
  std::vector<MelodyNote> notes;  ///< in order of time
  double tonal_s = 0;             ///< how long any tone is heard, be it speech

  /// Appends what the next chapter of the track holds: notes of 80 ms and up.
  void add(const PitchTrack& chapter);
};

/// The same without what is far softer than the playing: a room's last echo, a sound from outside.
Melody without_faint(Melody melody);

}  // namespace windway
