// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "cli/run_program.hpp"

namespace windway::cli_tests {

/// A file that the calls of these tests read: take.wav, moved.wav, before.json, after.json, piano.wav, bench.jsonl,
/// earlier.wav, earlier.flac. All are made once for all tests; nobody writes there.
std::string on_desk(const std::string& name);

/// A call that writes a result.
struct WrittenResult {
  std::string name;
  std::vector<std::string> call;            ///< to standard output; "OUTPUT" stands for a file that it always names
  std::string ending;                       ///< of the file's name
  std::string earlier = "earlier content";  ///< of a file that the result may replace
  bool removes_earlier = false;             ///< a run that made no report leaves none (windway batch, summary, sheet)
  int exit_status = 0;                      ///< where nothing disturbs it

  bool names_its_file() const;
  std::vector<std::string> call_to(const std::string& output) const;
};

/// Every command in every format, to a file; of the slow commands two formats.
const std::vector<WrittenResult>& written_results();
/// Calls whose answer goes to standard output alone.
const std::vector<WrittenResult>& printed_answers();

/// The complaints on standard error, without notes and warnings.
std::vector<std::string> complaints(const ProgramRun& run);
/// Expects this status, and one sentence that holds `name` and `why`.
void expect_one_complaint(const ProgramRun& run, int exit_status, const std::string& name, const std::string& why = "");

}  // namespace windway::cli_tests
