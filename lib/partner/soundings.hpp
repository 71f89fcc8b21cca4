// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <optional>
#include <span>
#include <vector>

#include "partner/chord.hpp"

namespace windway {

/// One note struck or held, from its start to where it is lost.
struct Sounding {
  double start_s = 0;
  double end_s = 0;
  /// [n - 1]: of the n-th partial, medians over the time in which it is heard; empty where that is less than a quarter.
  std::array<std::optional<SpectralPeak>, most_partials> partials{};
  double loudest_power = 0;  ///< of the whole note, in its loudest moment

  double share = 0;  ///< of all that sounds in the recording

  double first_hz() const { return partials[0]->hz; }
};

/// The notes of a recording of an instrument whose notes keep their pitch, in order of their starts: struck notes that
/// die away, held ones, several at once. A note struck again while it sounds counts anew. What lasts less than
/// 0.4 s, what glides, what is 32 dB softer than the loudest, and the hum of the mains are left out; empty too where no
/// note lasts 0.6 s, or all together are a small part of what sounds: talk has vowels that keep their pitch for a
/// while.
std::vector<Sounding> find_soundings(std::span<const float> samples, double rate_hz);

}  // namespace windway
