// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "support/take.hpp"

namespace windway::synthesis {

/// How a melody is played, and where.
enum class MelodyKind {
  plain,      ///< slurred and tongued notes of 0.2 to 1.2 s
  ornaments,  ///< with cuts, taps, rolls and grace notes of 40 to 60 ms
  vibrato,    ///< 6 to 16 cents either way
  runs,       ///< mostly runs of 5 notes a second
  quick,      ///< tongued and slurred, down to 80 ms
  room,       ///< ornaments in a room of 0.3 to 0.7 s
  recorder,   ///< plain, a recorder
};

std::vector<MelodyKind> melody_kinds();
std::string kind_name(MelodyKind kind);

struct MelodyDraw {
  MelodyKind kind = MelodyKind::plain;
  double duration_s = 60.0;
  double upper_doublings = 0.5;  ///< how much harder the second octave is blown than moderately; the first: a fifth
};

/// A melody of one invented flute by one invented player.
struct RenderedMelody {
  FluteModel flute;
  std::vector<Blowing> blowings;
  SyntheticTake sound;
  MelodyDraw draw;
};

/// The same draw and seed give the same melody.
RenderedMelody play_melody(const MelodyDraw& draw, std::uint64_t seed);

/// The same on a flute that is there already; `lowest_midi` is its lowest note.
RenderedMelody play_melody_on(const FluteModel& flute, int lowest_midi, const MelodyDraw& draw, Random& random);

/// What the player meant: the mean strength that a note is blown with, moderate being 0.
double meant_doublings(const RenderedMelody& melody, int midi);

/// What really sounded.
struct TrueMelodyNote {
  int midi = 0;
  double sounded_s = 0.0;     ///< without ornaments
  double median_cents = 0.0;  ///< from the target, between attacks and releases; of vibrato the middle
  double meant_cents = 0.0;   ///< of a note blown steadily as it was meant
};

/// The notes of 80 ms and more, ascending.
std::vector<TrueMelodyNote> true_melody_notes(const RenderedMelody& melody);

}  // namespace windway::synthesis
