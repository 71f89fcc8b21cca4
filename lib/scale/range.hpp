// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "holds/holds.hpp"
#include "pitch/pitch_track.hpp"
#include "scale/naming.hpp"

namespace windway {

/// Where an instrument's notes can sound: from its lowest note less a fourth to its highest plus a fourth.
struct PitchRange {
  double min_hz = 0;
  double max_hz = 0;
};

/// Empty where the hint does not tell the lowest note's octave.
std::optional<PitchRange> pitch_range(const InstrumentHint& hint, double a4_hz);

/// Rules for the pitch track: the usual range of duct flutes, widened where the instrument's own goes beyond. It is not
/// narrowed: a wrong octave is told from the notes outside.
PitchRules pitch_rules(const InstrumentHint& hint, double a4_hz);

/// The holds within the instrument's range; all of them where most lie outside: then what was said of the instrument is
/// wrong, and naming says so.
std::vector<Hold> in_range(std::vector<Hold> holds, const InstrumentHint& hint, double a4_hz);

}  // namespace windway
