// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <complex>
#include <cstddef>
#include <optional>
#include <vector>

namespace windway {

/// Lines found close together, relative to where they were looked for.
struct BeatingLines {
  double middle_hz = 0;  ///< halfway between the outermost
  double apart_hz = 0;   ///< of the outermost
  std::size_t lines = 2;
};

/// Whether the slowly turning amplitudes of a line, `hop_s` apart and each heard through a Hann window of `window_s`,
/// are those of two or more lines of about the same strength (the weakest that counts is 10 dB softer), up to 16 Hz
/// apart: two or three reeds of one note. Empty for one line, and where the time is too short to tell: two and a half
/// beats at least.
std::optional<BeatingLines> beating_lines(const std::vector<std::complex<double>>& amplitudes, double hop_s,
                                          double window_s);

}  // namespace windway
