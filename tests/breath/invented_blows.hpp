// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "breath/breath.hpp"
#include "support/random.hpp"

namespace windway::testing {

inline const std::vector<Blow> three{Blow::soft, Blow::moderate, Blow::hard};

/// One blow to be: note (an index into the invented whistle's scale), what it is meant to be, and its strength in
/// doublings of the pressure about that of such a blow.
struct MeantBlow {
  int note = 0;
  Blow blow = Blow::moderate;
  double off_doublings = 0;  ///< of the strength of such a blow
};

/// How the take differs from an easy one.
struct Circumstances {
  double length_s = 1.2;
  double gap_s = 0.3;
  double wander_cents = 0.4;    ///< SD of an OU wander of 0.3 s
  double room_db = 0;           ///< SD of each hold's level and colour: the room's
  double loose_doublings = 0;   ///< SD of each blow's strength about what was meant
  double warming_cents = 0;     ///< over the take, towards an end, tau a third of the take
  double sag_cents_per_s = 0;   ///< sinking within each hold
  double fall_db_s = 0;         ///< of the level within each hold; noise and pitch follow as they follow the breath
  double own_fall_db_s = 0;     ///< SD of that, from hold to hold
  double tremolo_db = 0;        ///< breath vibrato of the level, either way, at 5.3 Hz
  bool there_and_back = false;  ///< swells go up and down again
  double bends_db = 0;          ///< SD of what the room does to the level within a hold as the pitch moves
  bool noise_drowned = false;   ///< in the room's: it does not follow the breath
  double cents = 0;             ///< the whole flute
  double gain_db = 0;           ///< the whole recording
  bool levelled = false;        ///< automatic gain: every level alike
  double vibrato_cents = 0;     ///< at 5.3 Hz
};

struct InventedTake {
  Naming naming;
  std::vector<MeantBlow> meant;
};

/// An invented whistle in D, 14 notes; bends by degree from 4 to 19 cents a doubling.
inline constexpr int notes_of_whistle = 14;
double true_cents(int note, double strength_doublings);
double strength_of(Blow blow);  ///< soft - 1.25, hard + 1

std::vector<MeantBlow> in_steps(int notes, const std::vector<Blow>& each);
std::vector<MeantBlow> in_rounds(int notes, const std::vector<Blow>& each);
std::vector<MeantBlow> there_and_back(int notes, const std::vector<Blow>& each);

InventedTake invent_take(const std::vector<MeantBlow>& meant, const Circumstances& circumstances,
                         synthesis::Random& random);

/// How many holds were not given the blow meant; `expected` absent: none should have got one.
int wrong_blows(const InventedTake& take, const BreathResult& result, bool blows_expected = true);

bool warned(const BreathResult& result, WarningCode code);

}  // namespace windway::testing
