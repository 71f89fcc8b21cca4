// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

#include "bench/judged_take.hpp"
#include "report/lines/batch_line.hpp"
#include "report/lines/read_entry.hpp"
#include "report/measurement/invented_measurement.hpp"

namespace windway::report_tests {

/// The invented take judged by 12 cents and 30 cents of spread: it fails.
inline JudgedTake judged_take() {
  JudgedTake take;
  take.measurement = invented_measurement();
  take.measurement.settings.head.out_mm = 4.5;
  take.path = take.measurement.takes[0].path;
  take.sha256 = take.measurement.takes[0].sha256;
  take.subject.serial = "HW-0007";
  take.settings_key = "0123456789abcdef";
  take.verdict =
      judge(take.measurement, {.tolerance_cents = 12, .max_spread_cents = 30, .head_out_range_mm = HeadRange{2, 8}});
  return take;
}

/// Its line of results without the line feed.
inline std::string line_of(const JudgedTake& take) {
  std::string line = batch_line(take, "1.2.3");
  line.pop_back();
  return line;
}

inline std::optional<BenchEntry> entry_of(const std::string& line) { return EntryReader().read(line); }

}  // namespace windway::report_tests
