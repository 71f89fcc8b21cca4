// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "breath/breath.hpp"
#include "support/flute_model.hpp"
#include "support/random.hpp"

namespace windway::synthesis {

/// One unbroken blow as it is asked of the player.
struct Blowing {
  int midi = 0;
  Blow blow = Blow::moderate;
  double from_doublings = 0.0;  ///< strength of the breath: log2 of the pressure against a moderate one
  double to_doublings = 0.0;    ///< not the same: a swell, with a still tenth at either end
  double duration_s = 1.0;
  double gap_s = 0.2;  ///< silence after it; 0: the next note is slurred on
};

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

/// Times from the start of the blow.
struct Span {
  double start_s = 0.0;
  double end_s = 0.0;
};

/// Where a blow stands among its neighbours.
struct BlowPlace {
  double rate_hz = 24000.0;
  double drift_cents = 0.0;  ///< warming
  bool slurred_from = false;
  bool slurred_to = false;
  bool register_break = false;
};

struct RenderedBlow {
  std::vector<double> samples;
  std::vector<double> cents;  ///< of each sample, from the target: the rate of the phase, breaks and taps left out
  std::vector<double> vibrato_cents;  ///< what of that is vibrato
  double attack_s = 0.0;
  double release_s = 0.0;
  std::optional<Span> broken;  ///< a tap or a break into the register above
};

RenderedBlow render_blow(const FluteModel& flute, const Blowing& blowing, const Playing& playing,
                         const BlowPlace& place, Random& random);

}  // namespace windway::synthesis
