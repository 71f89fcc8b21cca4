// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "support/blow.hpp"
#include "support/room.hpp"
#include "support/segmentation.hpp"

namespace windway::synthesis {

/// A flute that warms in the hands: cents gained since the start, size * (1 - exp(-t / memory_s)), scaled so that
/// the whole take gains `size_cents`.
struct Warming {
  double size_cents = 0.0;
  double memory_s = 1.0;
  double length_s = 1.0;  ///< of the whole take
  double cents_at(double time_s) const;
};

struct Performance {
  double rate_hz = 24000.0;
  Playing playing;
  RecordingChain chain;
  double warming_cents = 0.0;  ///< over the whole take
  /// Absent: 0.4 of the take, three quarters of the warming in the first half.
  std::optional<double> warming_memory_s{};
  int talk_after_blows = 0;  ///< the player talks after every so many blows; 0: never
};

/// A blow as it stands in the finished take.
struct TrueHold {
  int midi = 0;
  Blow blow = Blow::moderate;
  double start_s = 0.0;
  double end_s = 0.0;
  double attack_s = 0.0;       ///< how long the attack lasts
  double release_s = 0.0;      ///< how long the release lasts
  std::optional<Span> broken;  ///< times of the take
  double curve_step_s = 0.005;
  std::vector<double> curve_cents;    ///< from the target, every step from start_s; breaks and taps left out
  std::vector<double> vibrato_cents;  ///< what of that is vibrato
};

struct SyntheticTake {
  std::vector<float> samples;
  double rate_hz = 0.0;
  std::vector<TrueHold> holds;
  TrueSegmentation segmentation;
  Warming warming;
};

/// Plays the blows one after the other. The same arguments and a Random of the same seed give the same samples.
SyntheticTake synthesise_take(const FluteModel& flute, const std::vector<Blowing>& blowings,
                              const Performance& performance, Random& random);

TrueHold true_hold(const RenderedBlow& rendered, const Blowing& blowing, double start_s, double rate_hz);
/// What the hold is in the segmentation.
TrueStretch stretch_of(const TrueHold& hold);

/// Mean of the true pitch over a part of the hold, its break and 30 ms either side left out; absent where nothing
/// of the hold lies within.
std::optional<double> mean_cents(const TrueHold& hold, double start_s, double end_s);
/// The same over everything between attack and release.
std::optional<double> mean_cents(const TrueHold& hold);

}  // namespace windway::synthesis
