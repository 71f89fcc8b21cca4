// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "support/take.hpp"
#include "support/truth.hpp"

namespace windway::synthesis {

/// What is played, and what the recording does to it.
enum class TakeKind {
  steps,
  rounds,
  swells,
  vibrato,
  messy,
  recorder,
  levelled,
  room,
  church,
  tremolo,       ///< vibrato of the breath, +- 1.3 to 1.8 dB; its noise swings two to three times as far
  deep_tremolo,  ///< the same, +- 2.4 to 3 dB
  diminuendo,    ///< every blow falls by 2.5 to 4 dB/s
  dying,         ///< one blow a note, 0.35 to 0.6 s, falling by 9 to 14 dB/s
  live_room,     ///< 0.5 to 0.9 s, early echoes, the second harmonic over the first on a third of the notes
  whine,         ///< a fan's partials 20 to 28 dB under the notes, all through the take
  four,          ///< four strengths a note, in any order
  one_again,     ///< one blow a note, one or two notes again, 1 to 2 dB softer
  swell_room,    ///< one swell a note in a room, of half of the takes up and down again
  loud_noise,    ///< breath noise 5 to 7 dB under the tone
};

std::vector<TakeKind> take_kinds();
std::string kind_name(TakeKind kind);

/// A whole take of one invented flute by one invented player, both drawn by lot.
struct PlayedTake {
  FluteModel flute;     ///< as cold as when the take began
  Strengths strengths;  ///< what the player means by soft and hard
  std::vector<Blowing> blowings;
  SyntheticTake sound;
};

/// Nine notes or so, a second a blow. The breath wanders within a blow (correlated noise), no two blows of one strength
/// are quite alike (SD up to 0.1 doublings, 0.35 dB; messy takes up to 0.2), the pitch sinks within a blow as carbon
/// dioxide rises, half of the flutes are still warming. The same kind and seed give the same take.
PlayedTake play_take(TakeKind kind, std::uint64_t seed);

/// The same on a flute that is there already and has been warmed up: two takes of it differ by the blowing alone.
PlayedTake play_take_on(const FluteModel& flute, TakeKind kind, std::uint64_t seed);

/// The notes as they answer the strengths meant, whatever the blows came to. The flute is as warm as at `time_s`, or
/// where none is given as it was at each note's moderate blows (of none: at all of its blows).
std::vector<TrueNote> response_at(const PlayedTake& take, std::optional<double> time_s);

}  // namespace windway::synthesis
