// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace windway::external_tests {

/// What aubio says of one stretch of a file.
struct AubioFrame {
  double start_s = 0;  ///< of the samples it was read from
  double end_s = 0;
  double f0_hz = 0;
};

/// A file's pitch by aubio's "yinfast", in frames of 43 ms every 10 ms, after aubio's own conversion to 96 kHz: the
/// method lays a parabola through lags of whole samples, and with the 13 samples that a period of A6 has at 24 kHz that
/// alone puts it 7 cents off (measured). Unpitched frames are left out. Empty where aubio was not there when this was
/// built; throws std::runtime_error where aubio cannot read the file.
std::optional<std::vector<AubioFrame>> aubio_pitch(const std::string& path);

}  // namespace windway::external_tests
