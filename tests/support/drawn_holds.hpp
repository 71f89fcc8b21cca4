// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "holds/holds.hpp"
#include "support/blow.hpp"
#include "support/segmentation.hpp"

namespace windway::synthesis {

/// What makes a drawn hold hard to hear right.
struct Hardship {
  int strong_harmonics = 0;  ///< as strong as the fundamental or up to 12 dB stronger
  bool overblown = false;    ///< the bore rings with the breath noise at half and one and a half times the pitch
  double breath_db = 0.0;    ///< level of the whole tone over the breath noise
  double slip_s = 0.0;       ///< for so long it sounds an octave higher; 0: it never slips
};

struct DrawnHold {
  double start_s = 0.0;
  double end_s = 0.0;
  double hz = 0.0;           ///< geometric mean of the pitch over the hold, a slip left out
  std::optional<Span> slip;  ///< into the octave
  Hardship hardship;
};

/// Some twenty holds one after the other, each drawn afresh as if of another flute, in one room at one working rate.
struct DrawnTake {
  std::vector<float> samples;
  double rate_hz = 0.0;
  bool room = false;
  std::string compass;  ///< "usual" F4 to D7, "low whistle" from G3, "garklein" from C6; all lowered at 8 kHz
  std::vector<DrawnHold> holds;
  TrueSegmentation segmentation;
};

/// The same seed gives the same take. Breath noise 8 to 30 dB under the tone, up to two harmonics as much as 12 dB
/// stronger than the fundamental with the odd ones present, noise of the bore at half and one and a half times an
/// overblown pitch, a slip into the octave in one of five long holds, chiff, soft to hard, a room in a third of the
/// takes, low whistles and garkleins in a tenth.
DrawnTake draw_take(std::uint64_t seed, int holds = 20);

/// What became of a drawn hold.
struct Verdict {
  double found_s = 0.0;      ///< of it, in holds of the right pitch
  int pieces = 0;            ///< holds found for it
  double worst_cents = 0.0;  ///< of those, the one farthest from the true pitch

  bool gross() const;  ///< farther than 60 cents: another semitone or register
};

struct Verdicts {
  std::vector<Verdict> holds;  ///< as blown
  std::vector<Hold> invented;  ///< where nothing is blown for half their length
};

Verdicts judge(const std::vector<DrawnHold>& blown, const std::vector<Hold>& found);
inline Verdicts judge(const DrawnTake& take, const std::vector<Hold>& found) { return judge(take.holds, found); }

/// Less than half of it was found.
bool missed(const DrawnHold& drawn, const Verdict& verdict);

}  // namespace windway::synthesis
