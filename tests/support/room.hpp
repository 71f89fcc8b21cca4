// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "support/random.hpp"

namespace windway::synthesis {

/// What lies between the flute and the file. Levels in dB against full scale.
struct RecordingChain {
  double reverb_s = 0.0;         ///< time for the reverberation to fall by 60 dB; 0: none
  double reverb_db = -10.0;      ///< level of the reverberation against the direct sound
  int early_echoes = 0;          ///< single reflections within 40 ms, each at a place drawn anew
  double peak = 0.4;             ///< of the loudest moment
  double floor_db = -66.0;       ///< RMS of the white noise of room and microphone
  std::optional<double> hum_db;  ///< of the 50 Hz component; its odd harmonics are weaker
  double dc = 0.0;
  double breath_blasts = 0.0;     ///< RMS of the low rumble of breath on the microphone
  bool levelled = false;          ///< the recorder keeps the level alike by itself
  std::optional<double> clip_at;  ///< everything beyond +- this is cut off
};

std::vector<double> through(const RecordingChain& chain, std::vector<double> samples, double rate_hz, Random& random);

}  // namespace windway::synthesis
