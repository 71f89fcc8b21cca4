// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <vector>

#include "playing/melody.hpp"

namespace windway {

/// Frames over which the pitch stays on one note, before anything is known of the instrument. Its ends, smeared by the
/// track's window, are left out.
struct Stretch {
  std::size_t first = 0;
  std::size_t last = 0;  ///< included
  double cents = 0;      ///< median above 440 Hz
  double level_db = 0;   ///< mean

  std::size_t frames() const { return last - first + 1; }
};

/// Every stretch of 40 ms and more (of a note of some 80 ms), in order of time. What glides as speech does is none; a
/// vibrato of 25 cents either way is one.
std::vector<Stretch> find_stretches(const Melody& melody);

}  // namespace windway
