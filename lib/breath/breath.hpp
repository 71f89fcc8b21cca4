// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "breath/blows/blows.hpp"
#include "breath/response/drift.hpp"
#include "breath/response/note_breath.hpp"
#include "scale/naming.hpp"
#include "warning.hpp"

namespace windway {

struct BreathResult {
  /// By hold; absent: not judged, the only strength, or of five strengths one beside the moderate.
  std::vector<std::optional<Blow>> blow;
  std::vector<bool> used;  ///< by hold
  /// By hold: to add to its deviation, so that it stands where its note is given for: the place of the head, the time
  /// of the take where a drift is corrected, the temperature.
  std::vector<double> correction_cents;
  std::vector<NoteBreath> notes;  ///< ascending; only notes of the scale
  std::optional<Drift> drift;
  std::optional<double> repeat_db;  ///< SD with which the player repeats a blow's level, where repeats tell
  Warnings warnings;
};

/// Judges which blow is which, jointly over the notes, and measures each note's response to the breath.
BreathResult measure_breath(const Naming& naming, const BlowHint& hint);

}  // namespace windway
