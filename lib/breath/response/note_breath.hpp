// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>

#include "instrument/note.hpp"
#include "units/units.hpp"

namespace windway {

/// One note's response to the breath. Cents are deviations from the note's target, + sharp.
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
  /// Absent where they lie close together or repeats show the drift.
  std::optional<double> warming_u95_cents;
  /// How far the note's one blow may stray from moderate, where the take has one strength and nothing shows it. Not a
  /// part of moderate's u95.
  std::optional<double> stray_u95_cents;
  /// What the flute may have risen by after the note was played, to the end of the take: on all notes at once. Absent
  /// where repeats show the drift, or the flute was said to be warm. Not a part of the u95 of soft, moderate and hard.
  std::optional<double> later_warming_u95_cents;
  std::optional<CentsEstimate> cents_per_db;
  std::optional<double> level_range_db;  ///< hard minus soft
  /// Pitch bend from moderate to the take's median soft and hard strengths through this note's own response, cents,
  /// both positive; absent where the spread is not measured.
  std::optional<double> reach_soft_cents;
  std::optional<double> reach_hard_cents;
};

}  // namespace windway
