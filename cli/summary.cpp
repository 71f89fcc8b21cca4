// SPDX-License-Identifier: GPL-3.0-or-later
#include "summary.hpp"

#include <CLI/CLI.hpp>
#include <memory>

#include "bench_options.hpp"
#include "bench_writer.hpp"
#include "call_files.hpp"
#include "exit_status.hpp"
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
  windway summary bench.jsonl --format csv-statistics --decimal-comma
  zcat 2026-*.jsonl.gz | windway summary - --keeper HW-0001 --format json

Without --keeper and --group-by the keeper and the groups are those of the
batch, as its results remember them.

Exit status: as of windway batch for the results there are; 3 also where a line
is no result.)";

int summarise(const SummaryCall& call) {
  check_recordings(call.results, "which results? as in: windway summary bench.jsonl");
  BenchWriter writer(call.result, call.bench, call.results);
  const std::size_t bad = read_saved_lines(
      call.results, [&](const BenchEntry& entry, std::string_view line) { writer.add(entry, line); },
      [](const std::string& warning) { complain("warning: " + warning); });
  writer.finish();
  return bad > 0 ? exit_recording : exit_status_of(writer.tally());
}

}  // namespace

Action declare_summary(CLI::App& command) {
  const auto call = std::make_shared<SummaryCall>();
  add_recordings_option(command, "RESULTS", call->results,
                        "files that windway batch --results has written;\n- is standard input");
  add_bench_options(command, call->bench);
  add_bench_result_options(command, call->result, {"text", "csv", "jsonl", "junit", "json", "csv-statistics"});
  command.footer(examples);
  return [call] { return summarise(*call); };
}

}  // namespace windway::cli
