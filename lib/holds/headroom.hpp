// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "holds/holds.hpp"

namespace windway {

/// Power of every frame of a take, dB full scale; frame i as in its track.
struct PowerCurve {
  double first_s = 0;
  double hop_s = 0;
  std::vector<float> power_db;

  /// Appends the next chapter.
  void add(const PitchTrack& chapter);
};

/// The same with a point for every `points` frames, their mean power: a curve to look at.
PowerCurve thinned(const PowerCurve& power, std::size_t points);

/// How far the softest hold stands above what sounds between the holds, dB; empty where nothing lies between them.
std::optional<double> headroom_db(const PowerCurve& power, const std::vector<Hold>& holds);

}  // namespace windway
