// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "shared_options.hpp"

namespace windway::cli {

/// `windway playing` as it was called.
struct PlayingCall {
  std::vector<std::string> melodies;
  std::string against;
  FluteOptions flute;
  PitchOptions pitch;
  HeadOptions head;
  ResultOptions result;
};

/// Declares the command and its options; parsing fills `call`, which must outlive `app`.
void add_playing(CLI::App& app, PlayingCall& call);

/// Measures the melody and writes the report. Throws Error.
void playing_and_report(const PlayingCall& call);

}  // namespace windway::cli
