// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "support/blow.hpp"
#include "support/room.hpp"

namespace windway::synthesis {

/// What sounds in a stretch of a take.
enum class Sounding {
  blown,
  echo,     ///< the room's reverberation of the blow before it, dying away
  foreign,  ///< a voice, or a whine where nothing covers it
};

/// One stretch of a take in which one thing sounds; times from the take's start.
struct TrueStretch {
  Sounding what = Sounding::blown;
  double start_s = 0.0;
  double end_s = 0.0;
  std::optional<int> midi;     ///< of a blow and its echo
  double attack_s = 0.0;       ///< of a blow: length of its attack, which begins at start_s
  double release_s = 0.0;      ///< of a blow: length of its release, which stops at end_s
  std::optional<Span> broken;  ///< of a blow: a tap or a break into another register
};

/// Ascending; no two overlap; between them nothing sounds but the noise of room and microphone.
using TrueSegmentation = std::vector<TrueStretch>;

/// Puts after each blow the echo that `chain` gives it: until the next stretch, or until the reverberation is as soft
/// as the noise within 30 Hz, about what a frame of the analysis hears of it. None where the chain has no
/// reverberation.
TrueSegmentation with_echoes(const TrueSegmentation& sounding, const RecordingChain& chain,
                             const std::vector<float>& samples, double rate_hz);

/// Puts a foreign stretch wherever nothing else sounds: a whine all through a take.
TrueSegmentation with_whine(const TrueSegmentation& sounding, double take_s);

/// RMS between attack and release of a blow, dB full scale.
double level_db(const TrueStretch& blown, const std::vector<float>& samples, double rate_hz);

}  // namespace windway::synthesis
