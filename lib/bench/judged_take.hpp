// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>

#include "manifest/subject.hpp"
#include "measurement.hpp"
#include "takes/counting.hpp"
#include "verdict/verdict.hpp"

namespace windway {

/// One take of a batch with all that came of it.
struct JudgedTake {
  std::string path;
  std::string sha256;  ///< of the file; empty: it could not be read
  Subject subject;
  Counting counting;
  std::optional<double> bore_temp_c;  ///< as the manifest says it
  std::string settings_key;           ///< what it was measured and judged by, in short: another key, another result
  std::string error;                  ///< why it could not be measured; empty: it was
  Measurement measurement;            ///< of a take that could not be measured, its settings alone
  bool with_holds = false;            ///< the line has them; they are most of it
  std::optional<Verdict> verdict;     ///< absent: nothing was asked
};

}  // namespace windway
