// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "support/take.hpp"
#include "support/truth.hpp"

namespace windway::synthesis {

/// What is played, and what the recording does to it.
enum class TakeKind { steps, rounds, swells, vibrato, messy, recorder, levelled, room, church };

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
