// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "shared_options.hpp"

namespace windway::cli {

/// `windway measure` as it was called.
struct MeasureCall {
  std::vector<std::string> takes;
  std::vector<std::string> soft_takes;
  std::vector<std::string> moderate_takes;
  std::vector<std::string> hard_takes;
  BlowOptions blow;
  std::string weights_from;  ///< a recorded melody: notes count by the share of time that it sounds them
  FluteOptions flute;
  PitchOptions pitch;
  HeadOptions head;
  ResultOptions result;
};

/// Declares the command and its options; parsing fills `call`, which must outlive `app`.
void add_measure(CLI::App& app, MeasureCall& call);

/// Measures and writes the report. Throws Error.
void measure_and_report(const MeasureCall& call);

}  // namespace windway::cli
