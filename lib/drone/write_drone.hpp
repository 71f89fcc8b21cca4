// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

#include "drone/drone.hpp"

namespace windway {

/// True if a drone can be written to a file of that name (.wav, .flac).
bool is_drone_name(const std::string& path);

/// True for a file that write_drone has written.
bool is_drone_file(const std::string& path);

/// Writes the drone as one channel of 24 bits (finer than any converter: no dither is needed) to an open file, in the
/// format that `name` ends in. Throws Error (kind output).
void write_drone(const DroneSettings& settings, int descriptor, const std::string& name);

}  // namespace windway
