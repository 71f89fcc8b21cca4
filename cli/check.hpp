// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "shared_options.hpp"

namespace windway::cli {

/// `windway check` as it was called.
struct CheckCall {
  std::vector<std::string> takes;
  std::string after;
  std::optional<double> tolerance_cents;
  FluteOptions flute;
  PitchOptions pitch;
  HeadOptions head;
  ResultOptions result;
};

/// Declares the command and its options; parsing fills `call`, which must outlive `app`.
void add_check(CLI::App& app, CheckCall& call);

/// Says whether the head is set; gives the exit status: out of tolerance where one was given and more is left. Throws
/// Error.
int check_and_report(const CheckCall& call);

}  // namespace windway::cli
