// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

namespace windway::cli_tests {

/// A sample take and what is said of it when it is measured (as samples/README.md has it).
struct SampleTake {
  std::string name;
  std::vector<std::string> said;
};

/// All of tests/golden/pages/calls.csv, which scripts/bless reads too.
const std::vector<SampleTake>& samples();

/// The arguments that measure this take, and then `more`.
std::vector<std::string> call_of(const SampleTake& sample, const std::vector<std::string>& more);

}  // namespace windway::cli_tests
