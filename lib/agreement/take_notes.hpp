// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "breath/breath.hpp"

namespace windway {

/// The notes of one take by itself.
struct TakeNotes {
  int take = 0;
  std::vector<NoteBreath> notes;  ///< ascending
  std::optional<Drift> drift;     ///< the notes are given as after it, where it was corrected
};

/// Each of several takes measured by itself, in their order; empty for one take. A take that was said to be blown soft
/// or hard throughout is left out: its notes differ from the others' by the blowing.
std::vector<TakeNotes> notes_by_take(const Naming& naming, const BlowHint& hint);

/// SD of what errs alike on all notes of the take: the correction of its drift, which is on average half of the whole.
double drift_sd_cents(const TakeNotes& take);

}  // namespace windway
