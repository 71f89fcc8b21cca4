// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "shared_options.hpp"

namespace windway::cli {

/// `windway compare` as it was called.
struct CompareCall {
  std::vector<std::string> takes;
  std::optional<double> drawn_out_mm;
  std::optional<double> pushed_in_mm;
  bool same_setting = false;
  FluteOptions flute;
  PitchOptions pitch;
  HeadOptions head;
  ResultOptions result;
};

/// Declares the command and its options; parsing fills `call`, which must outlive `app`.
void add_compare(CLI::App& app, CompareCall& call);

/// Compares and writes the report. Throws Error.
void compare_and_report(const CompareCall& call);

}  // namespace windway::cli
