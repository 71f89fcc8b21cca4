// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "scale/naming.hpp"
#include "units/units.hpp"
#include "warning.hpp"

namespace windway {

enum class Blow { soft, moderate, hard, swell };

/// What the player said of the blows.
struct BlowHint {
  std::vector<Blow> order;                        ///< --blown: the blows of each note in order; empty: not said
  std::vector<std::optional<Blow>> blow_of_take;  ///< --soft/--moderate/--hard: by take index; empty: not said
};

/// How one note answers the breath. Cents are deviations from the note's target, + sharp.
struct NoteBreath {
  NoteId id;
  int register_number = 1;
  double target_hz = 0;
  double weight = 1.0;
  bool can_check = true;  ///< may serve to set the head by
  int holds = 0;          ///< used
  std::optional<CentsEstimate> soft;
  CentsEstimate moderate;
  bool moderate_is_midway = false;  ///< soft and hard blows only: midway between them
  std::optional<CentsEstimate> hard;
  std::optional<CentsEstimate> spread;  ///< hard - soft, only where measured
  /// What of the spread's u95 is the flute's warming between its soft and its hard blows: it errs alike on all notes.
  /// Absent where they lie close together or repeats tell the drift.
  std::optional<double> warming_u95_cents;
  std::optional<CentsEstimate> cents_per_db;
  std::optional<double> level_range_db;  ///< hard minus soft
  /// Pitch bend from moderate to the take's median soft and hard strengths through this note's own response, cents,
  /// both positive; absent where the spread is not measured.
  std::optional<double> reach_soft_cents;
  std::optional<double> reach_hard_cents;
};

/// Slow change of the pitch over the take (warming), told apart from the blowing by repeats.
struct Drift {
  double over_take_cents = 0;  ///< from the first hold to the last
  double over_take_u95_cents = 0;
  std::optional<double> reference_time_s;  ///< notes are given as at this time; absent where nothing was corrected
};

struct BreathResult {
  /// By hold; absent: not judged, the only strength, or of five strengths one beside the moderate.
  std::vector<std::optional<Blow>> blow;
  std::vector<bool> used;         ///< by hold
  std::vector<NoteBreath> notes;  ///< ascending; only notes of the scale
  std::optional<Drift> drift;
  std::optional<double> repeat_db;  ///< SD with which the player repeats a blow's level, where repeats tell
  Warnings warnings;
};

/// Judges which blow is which, jointly over the notes, and measures each note's response to the breath.
BreathResult measure_breath(const Naming& naming, const BlowHint& hint);

}  // namespace windway
