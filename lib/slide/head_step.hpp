// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "instrument/instrument.hpp"

namespace windway {

/// A note as it stands in its take.
struct TimedNote {
  NoteId id;
  double time_s = 0;  ///< mean of its holds
  double cents = 0;   ///< moderate deviation
  double cents_per_mm = 0;
};

/// From this note on, all that follow lie apart from those before, as if the head had been moved there.
struct HeadStep {
  NoteId first;
  double slide_mm = 0;  ///< + drawn out
};

/// The likeliest step of a scale that was played once through, where it is sure and larger than flutes have of their
/// own: deviation = level - slide (cents per mm) from the step on, by least squares over all places of the step with
/// three notes on either side.
std::optional<HeadStep> find_head_step(std::vector<TimedNote> notes);

}  // namespace windway
