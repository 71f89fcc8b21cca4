// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "drone/drone.hpp"
#include "shared_options.hpp"

namespace windway::cli {

/// `windway drone` as it was called.
struct DroneCall {
  std::vector<std::string> notes;
  DroneSettings sound;
  std::string output;
  std::string note_names = "english";
  PitchOptions pitch;
};

/// Declares the command and its options; parsing fills `call`, which must outlive `app`.
void add_drone(CLI::App& app, DroneCall& call);

/// Writes the drone. Throws Error.
void write_drone_file(const DroneCall& call);

}  // namespace windway::cli
