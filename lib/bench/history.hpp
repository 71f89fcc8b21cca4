// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "bench/bench_entry.hpp"
#include "bench/repeatability.hpp"

namespace windway {

/// How far two takes of a flute on which nothing was worked lie apart, 95 %, cents; absent: no flute was recorded
/// again.
struct BenchRepeat {
  double note_u95_cents = 0;   ///< of one note, against the flute's others
  double whole_u95_cents = 0;  ///< of the whole flute: warmth and blowing
};

std::optional<BenchRepeat> bench_repeat(const Repeatability& repeats);

/// What the work between two takes of one instrument did to a note, cents.
struct NoteStep {
  NoteId note;
  CentsEstimate change;  ///< of the moderate pitch, + sharper; as if the head had stood where it stood before
  bool is_real = false;  ///< more than its u95
  std::optional<CentsEstimate> spread_change;
};

/// From one take to the next.
struct HistoryStep {
  std::size_t before = 0;  ///< index into the takes
  std::size_t after = 0;
  bool head_allowed_for = false;  ///< it is known where the head stood in both
  double common_cents = 0;        ///< what the notes have in common, their median
  bool air_differs = false;       ///< they were taken, or quoted, at different temperatures in the bore
  std::vector<NoteStep> notes;    ///< those in both takes, ascending
};

/// All takes of one instrument in the order of the work, and what changed from stage to stage.
struct History {
  std::vector<BenchEntry> takes;
  std::vector<HistoryStep> steps;  ///< between measured takes that count
  std::optional<BenchRepeat> repeat;
};

/// Orders the takes by their time of recording, else as they came, and compares each measured one that counts with the
/// one before. A note has changed where it differs by more than the bench repeats one. Where that is not known, notes
/// are taken to come back within half a cent (SD), and what all have in common, which may be warmth or blowing, is no
/// change of a note.
History history_of(std::vector<BenchEntry> takes, const std::optional<BenchRepeat>& repeat);

}  // namespace windway
