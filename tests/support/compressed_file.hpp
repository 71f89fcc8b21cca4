// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

namespace windway::synthesis {

/// Writes one channel at a constant bit rate as telephones and messages send it; the coding follows the name: .mp3
/// (MPEG layer III) or .opus (Ogg Opus, rates of 8, 12, 16, 24 or 48 kHz only). `kbit_s` is what is asked for: the
/// coder takes the nearest that it has. Throws std::runtime_error where it cannot.
void write_compressed(const std::string& path, const std::vector<float>& samples, double rate_hz, double kbit_s);

/// How much later than in `samples` the sound stands in the file, s: coders put their own silence before it. Found
/// where the two agree best about the first onset, up to 0.2 s.
double delay_in_file_s(const std::string& path, const std::vector<float>& samples);

}  // namespace windway::synthesis
