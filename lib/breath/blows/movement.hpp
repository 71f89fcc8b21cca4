// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "scale/naming.hpp"

namespace windway {

/// How the strength of the breath moves within one hold, in dB of level: the middle one of what level, breath noise and
/// pitch say, each by its usual answer to the breath, so that no single one of them decides.
struct Movement {
  double length_s = 0;
  double rise_db = 0;                  ///< from the first end of the steady part to the last, by the straight line
  double bulge_db = 0;                 ///< from both ends to the middle, by two straight lines
  std::optional<double> over_note_db;  ///< mean strength over that of all the note's holds; absent: it is the only one
  bool could_be_swell = false;         ///< in the scale, and long enough
};

/// By hold.
std::vector<Movement> hold_movements(const Naming& naming);

}  // namespace windway
