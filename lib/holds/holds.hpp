// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "pitch/pitch_track.hpp"

namespace windway {

/// One point of a hold's smoothed pitch curve. Of ten hours of playing there are millions: levels, which scatter by
/// tenths of a decibel, are kept short.
struct HoldPoint {
  double time_s = 0;
  double f0_hz = 0;
  float level_db = 0;  ///< RMS of the tone, all its harmonics together, dB full scale
  float noise_db = 0;  ///< breath noise, dB full scale per hertz
};

/// One unbroken held note.
struct Hold {
  int take = 0;  ///< index of the recording it stands in
  double start_s = 0;
  double end_s = 0;
  double steady_start_s = 0;
  double steady_end_s = 0;
  double frequency_hz = 0;         ///< time average, in cents, over the steady part
  double frequency_u95_cents = 0;  ///< of that average: noise, the room and the part's ends, not the player
  double wander_cents = 0;         ///< SD of the pitch over the steady part: the player's steadiness, or a swell
  double level_db = 0;             ///< mean RMS level of the tone over the steady part, dB full scale
  double noise_db = 0;             ///< breath noise, dB full scale per hertz
  double colour_db = 0;            ///< the harmonics' power against the fundamental's
  double unexplained_share = 0;    ///< power beside the tone's harmonics and the breath noise, against the tone's
  std::optional<double> octave_stretch_cents;  ///< of a string; absent where harmonics are lost in the noise
  bool register_break = false;                 ///< a short break was left out (into another register, a cut, a tap)
  bool turned_down = false;                    ///< the tone sounds on after it, far softer: a voice filter's doing
  std::optional<double> vibrato_hz;  ///< rate of the vibrato; the steady part is whole periods where they fill it
  std::vector<HoldPoint> curve;      ///< the steady part, a point each hop, broken parts left out
};

struct HoldRules {
  double min_hold_s = 0.25;
  double max_hz = 4500;  ///< above a garklein recorder's top note
};

/// Why a stretch that was blown is no hold.
enum class NotHeld {
  too_short,     ///< of steady pitch, against HoldRules
  too_high,      ///< for any duct flute
  roaming,       ///< the pitch moves farther than breath bends a note: a siren, a glide
  out_of_range,  ///< of the instrument
  too_faint      ///< against the take's other notes
};

/// A stretch that was blown, and is no hold.
struct LeftOut {
  int take = 0;
  double start_s = 0;
  double end_s = 0;
  NotHeld why{};
};

/// What was blown, each in order of time.
struct BlownStretches {
  std::vector<Hold> holds;  ///< also those far softer than the others
  std::vector<LeftOut> left_out;
};

/// What was blown in one chapter of a take.
BlownStretches holds_of_chapter(const PitchTrack& chapter, const HoldRules& rules);

/// Those of `all` that are not among `kept`, which are in the same order.
std::vector<LeftOut> left_out_of(const std::vector<LeftOut>& all, const std::vector<Hold>& kept);
/// Where holds stand, should they be left out.
std::vector<LeftOut> stretches_of(const std::vector<Hold>& holds, NotHeld why);

/// Leaves out what is far softer than the take's holds are: a whine of the room, heard before and after the playing.
std::vector<Hold> without_faint(std::vector<Hold> holds);

}  // namespace windway
