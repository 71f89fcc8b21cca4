// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>

#include "bench/verdict.hpp"
#include "measurement.hpp"
#include "takes/subject.hpp"

namespace windway {

/// One take of a batch with all that came of it.
struct JudgedTake {
  std::string path;
  std::string sha256;  ///< of the file; empty: it could not be read
  Subject subject;
  bool counts = true;                 ///< of several takes of one serial and stage, the one that the verdict rests on
  int takes_of_subject = 1;           ///< in this batch: of the same serial, stage and head
  bool keeper = false;                ///< it is of the bench's own flute
  std::optional<GroupBy> group_by{};  ///< what the batch tells its instruments apart by
  std::string settings_key;           ///< what it was measured and judged by, in short: another key, another result
  std::string error;                  ///< why it could not be measured; empty: it was
  Measurement measurement;            ///< of a take that could not be measured, its settings alone
  std::optional<Verdict> verdict;     ///< absent: nothing was asked
};

}  // namespace windway
