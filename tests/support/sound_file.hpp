// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

namespace windway::synthesis {

/// Writes interleaved samples, clipped to full scale; the container follows the name: .wav (16-bit, 24-bit or float)
/// or .flac (16-bit or 24-bit). Throws std::runtime_error where it cannot.
void write_sound(const std::string& path, const std::vector<float>& samples, double rate_hz, int channels = 1,
                 int bits = 16);

/// Two channels, interleaved: a dead microphone on the left (a trace of noise), `samples` on the right.
std::vector<float> beside_a_dead_channel(const std::vector<float>& samples);

}  // namespace windway::synthesis
