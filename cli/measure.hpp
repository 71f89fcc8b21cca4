// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "measurement.hpp"

namespace CLI {
class App;
}

namespace windway::cli {

/// `windway measure` as it was called; what was not given keeps the default of MeasureSettings.
struct MeasureCall {
  std::vector<std::string> takes;
  std::vector<std::string> soft_takes;
  std::vector<std::string> moderate_takes;
  std::vector<std::string> hard_takes;
  std::vector<std::string> blown;  ///< soft, moderate, hard in the order of each note's blows
  std::string kind;
  std::string lowest;
  std::optional<double> head_out_mm;
  std::optional<double> travel_mm;
  bool is_fully_in = false;
  bool is_fixed_head = false;
  std::string note_names = "english";
  std::string format = "text";
  std::optional<std::string> output;  ///< absent or -: standard output
  MeasureSettings settings;           ///< numbers that need no second look are read straight into it
};

/// Declares the command and its options; parsing fills `call`, which must outlive `app`.
void add_measure(CLI::App& app, MeasureCall& call);

/// Measures and writes the report. Throws Error.
void measure_and_report(MeasureCall call);

}  // namespace windway::cli
