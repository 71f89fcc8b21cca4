// SPDX-License-Identifier: GPL-3.0-or-later
#include "summary.hpp"

#include <CLI/CLI.hpp>
#include <memory>

#include "bench_options.hpp"
#include "bench_writer.hpp"
#include "call_files.hpp"
#include "earlier_report.hpp"
#include "exit_status.hpp"
#include "options.hpp"
#include "results/output_file.hpp"
#include "results/saved_lines.hpp"
#include "terminal.hpp"

namespace windway::cli {
namespace {

/// `windway summary` as it was called.
struct SummaryCall {
  std::vector<std::string> results;
  BenchOptions bench;
  ResultOptions result;
};

constexpr auto examples = R"(Examples:
  windway summary bench.jsonl --group-by lot
  windway summary shard-*.jsonl --format junit --output bench.xml
  zcat 2026-*.jsonl.gz | windway summary - --keeper HW-0001 --format json

Exit status: as of windway batch for the results there are; 3 also where a line
is no result.)";

int summarise(const SummaryCall& call) {
  check_recordings(call.results, "which results? as in: windway summary bench.jsonl");
  BenchWriter writer(call.result, call.bench, call.results);
  const std::size_t bad = read_saved_lines(
      call.results, [&](const BenchEntry& entry, std::string_view line) { writer.add(entry, line); },
      [](const std::string& warning) { complain("warning: " + warning); });
  if (!writer.has_groups())
    refuse("--group-by " + call.bench.group_by + ": no take in these results says its " + call.bench.group_by);
  writer.finish();
  return bad > 0 ? exit_recording : exit_status_of(writer.tally());
}

}  // namespace

Action declare_summary(CLI::App& command) {
  const auto call = std::make_shared<SummaryCall>();
  add_recordings_option(command, "RESULTS", call->results,
                        "files that windway batch --results has written;\n- is standard input");
  add_bench_options(command, call->bench);
  add_bench_result_options(command, call->result, {"text", "csv", "jsonl", "junit", "json"});
  command.footer(examples);
  return [call] { return without_earlier_report(call->result, call->results, [call] { return summarise(*call); }); };
}

}  // namespace windway::cli
