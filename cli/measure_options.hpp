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
  std::string weights_from;  ///< a recorded melody: notes count by the share of time that it sounds them
  TakeOptions take;
  ResultOptions result;
};

/// Declares the options; parsing fills `call`, which must outlive `command`.
void add_measure_options(CLI::App& command, MeasureCall& call);

}  // namespace windway::cli
