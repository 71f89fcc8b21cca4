// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "partner/spectral_peaks.hpp"

namespace windway {

/// Partials of a note that are looked at.
inline constexpr int most_partials = 10;

/// One note of one spectrum.
struct HeardNote {
  std::array<std::optional<SpectralPeak>, most_partials> partials{};  ///< [n - 1]; the first is always there

  double first_hz() const { return partials[0]->hz; }
  double power() const;  ///< of all its partials
};

/// The notes that the lines of one spectrum are partials of, from the lowest up: the lowest line that no note below
/// explains is a note's first partial, and the lines above it that a string of stiffness 0 to 0.003 would give are its
/// others. What is far softer than the rest, or than its own overtones, is not taken for a note. A note that sounds
/// only where a lower one has its partials is not heard.
std::vector<HeardNote> notes_of_chord(const std::vector<SpectralPeak>& peaks);

}  // namespace windway
