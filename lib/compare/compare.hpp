// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "measurement.hpp"

namespace windway {

/// One note in two takes of one instrument. Cents are deviations from the note's target in the take before.
struct NoteChange {
  NoteId note;
  CentsEstimate before;  ///< moderate
  CentsEstimate after;
  CentsEstimate change;  ///< after less before
  bool is_real = false;  ///< more than its u95
  std::optional<CentsEstimate> spread_before;
  std::optional<CentsEstimate> spread_after;
  std::optional<CentsEstimate> spread_change;  ///< where both were measured
  std::optional<double> wander_before_cents;   ///< mean SD of the pitch within a hold: the player's steadiness
  std::optional<double> wander_after_cents;
  std::optional<double> predicted_cents;  ///< by the law of the slide as it is, where the move was given
};

/// The move of the head that was given, against what the pitch did.
struct MeasuredMove {
  double drawn_out_mm = 0;  ///< + out
  SlideFactor factor;       ///< measured change over predicted change
  CentsEstimate warming;    ///< change common to all notes that is not the head's: 0 where it is too small to tell
  bool warming_told = false;
  bool is_telling = false;  ///< the move was large enough for the factor to be worth keeping, and no head's is so odd
};

/// How two takes of the same setting differ.
struct Repeat {
  CentsEstimate together;     ///< change common to all notes: warmth, blowing
  double note_sd_cents = 0;   ///< of one note of one take about that
  double note_u95_cents = 0;  ///< u95 of a note of one take, all but the common change
  int notes = 0;
};

struct Comparison {
  std::vector<NoteChange> notes;  ///< ascending; those in both takes
  std::vector<NoteId> only_before;
  std::vector<NoteId> only_after;
  CentsEstimate mean_change;
  std::optional<MeasuredMove> move;  ///< where the move was given
  std::optional<Repeat> repeat;      ///< where the setting is said to be the same, and two notes at least are in both
  Warnings warnings;
};

/// What the player says happened between the takes.
struct CompareHint {
  std::optional<double> drawn_out_mm;  ///< + out; absent: not said
  bool same_setting = false;
};

/// Compares two measurements of one instrument. Throws Error (kind recording) where no note is in both.
Comparison compare(const Measurement& before, const Measurement& after, const CompareHint& hint);

}  // namespace windway
