// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "breath/breath.hpp"
#include "support/flute_model.hpp"
#include "support/random.hpp"

namespace windway::synthesis {

/// From one time to another.
struct Span {
  double start_s = 0.0;
  double end_s = 0.0;
};

/// How the strength of the breath moves within a blow, told by what the level does; noise, colour and pitch go with it.
struct BreathMotion {
  double tremolo_db = 0.0;  ///< vibrato of the breath, either way
  double tremolo_hz = 5.2;
  double tremolo_turn_rad = 0.0;  ///< its phase at the start
  double fall_db_per_s = 0.0;     ///< diminuendo, about the middle of the blow
};

/// One unbroken blow as it is asked of the player.
struct Blowing {
  int midi = 0;
  Blow blow = Blow::moderate;
  double from_doublings = 0.0;  ///< strength of the breath: log2 of the pressure against a moderate one
  double to_doublings = 0.0;    ///< not the same: a swell, with a still tenth at either end
  double duration_s = 1.0;
  double gap_s = 0.2;     ///< silence after it; 0: the next note is slurred on
  bool and_back = false;  ///< a swell there and back again, a still tenth at the ends and in the middle
  BreathMotion motion{};
};

/// Strength meant at a time of the blow, doublings: its swell and its motion, not what the player strays from them.
double meant_doublings(const FluteModel& flute, const Blowing& blowing, double time_s);
/// Mean pitch, cents from the target, that the strength meant gives between two times of the blow; flute as cold as it
/// is.
double meant_cents(const FluteModel& flute, const Blowing& blowing, Span part);

/// How the player plays; all of it is heard in the sound and stands in the truth.
struct Playing {
  double breath_wander_doublings = 0.03;  ///< SD
  double pitch_wander_cents = 0.3;        ///< SD, beside what the breath does
  double sag_doublings = 0.04;            ///< what the strength falls over a blow as the lungs empty, at most
  /// What the pitch itself sinks as the breath's carbon dioxide rises, about the middle of the blow; each blow draws
  /// between none and twice as much.
  double sag_cents_per_s = 0.0;
  double vibrato_cents = 0.0;
  double vibrato_hz = 5.2;
  double chiff_db = 12.0;        ///< breath noise at the very start over that of the steady tone
  double scoop_cents = -35.0;    ///< where the pitch starts; gone by the end of the attack
  double fall_cents = -80.0;     ///< where it ends, beginning with the release
  double tap_cents = 0.0;        ///< a grace note this far off, 35 ms, in the middle; 0: none
  double most_edge_share = 1.0;  ///< attack and release take no more than this of a blow each
  bool register_breaks = false;  ///< every third hard blow jumps up an octave for 0.16 s
};

/// Where a blow stands among its neighbours.
struct BlowPlace {
  double rate_hz = 24000.0;
  double drift_cents = 0.0;  ///< warming
  bool slurred_from = false;
  bool slurred_to = false;
  double slip_s = 0.0;  ///< a slip into the octave, in the middle; 0: none
};

struct RenderedBlow {
  std::vector<double> samples;
  std::vector<double> cents;  ///< of each sample, from the target: the rate of the phase, breaks and taps left out
  std::vector<double> vibrato_cents;  ///< what of that is vibrato
  double attack_s = 0.0;
  double release_s = 0.0;
  std::optional<Span> broken;  ///< a tap or a break into the register above, times of the blow
};

RenderedBlow render_blow(const FluteModel& flute, const Blowing& blowing, const Playing& playing,
                         const BlowPlace& place, Random& random);

}  // namespace windway::synthesis
