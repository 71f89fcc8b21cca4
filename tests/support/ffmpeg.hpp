// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

namespace windway::synthesis {

/// Runs the ffmpeg program with these arguments, no shell between; silent but for its errors. False where there is no
/// such program on PATH. Throws std::runtime_error where it fails.
bool run_ffmpeg(const std::vector<std::string>& arguments);

/// True if run_ffmpeg can work.
bool has_ffmpeg();

/// Writes `to`, whose ending says the container, from a sound file by ffmpeg's coder `codec` ("aac", "libopus"), at
/// `kbit_s` where that is not 0. Throws std::runtime_error where it cannot.
void convert_sound(const std::string& from, const std::string& to, const std::string& codec, double kbit_s = 0.0);

}  // namespace windway::synthesis
