// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/bench/bench_report.hpp"
#include "report/bench/history_fields.hpp"
#include "report/bench/history_report.hpp"
#include "report/bench/summary_fields.hpp"
#include "report/record/json_record.hpp"

namespace windway {

std::string bench_statistics_json(const BenchTally& tally, const BenchFindings& findings,
                                  const std::string& program_version) {
  return json_document("windway.summary.v1", program_version,
                       [&](const JsonWriter& write) { visit_summary(tally, findings, write); });
}

std::string history_json(const History& history, const std::string& program_version) {
  return json_document("windway.history.v1", program_version, [&](const JsonWriter& write) {
    visit_history(history, history.takes.front().subject.serial, write);
  });
}

}  // namespace windway
