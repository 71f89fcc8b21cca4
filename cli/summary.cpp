// SPDX-License-Identifier: GPL-3.0-or-later
#include "summary.hpp"

#include <CLI/CLI.hpp>

#include "bench/history.hpp"
#include "bench_options.hpp"
#include "bench_writer.hpp"
#include "exit_status.hpp"
#include "output_file.hpp"
#include "report/bench/history_report.hpp"
#include "saved_lines.hpp"

namespace windway::cli {
namespace {

constexpr auto summary_examples = R"(Examples:
  windway summary bench.jsonl --group-by lot
  windway summary shard-*.jsonl --format junit --output bench.xml
  zcat 2026-*.jsonl.gz | windway summary - --keeper HW-0001 --format json

Exit status: as of windway batch for the results there are; 3 also where a line is no result.)";

constexpr auto history_examples = R"(Examples:
  windway history HW-0412 --results bench.jsonl
  windway history HW-0412 --results raw.jsonl --results final.jsonl --format json

Exit status: 0 told; 2 a mistake in the call; 3 no take is of this serial, or a file could not be
read; 4 the result could not be written; 130 interrupted.)";

std::string history_report(const History& history, const std::string& format) {
  if (format == "json") return history_json(history, WINDWAY_VERSION);
  return format == "csv" ? history_csv(history) : history_text(history);
}

}  // namespace

void add_summary(CLI::App& app, SummaryCall& call) {
  CLI::App& command = *app.add_subcommand("summary", "the statistics again from saved results, merged");
  command.group("Commands");
  command.option_defaults()->always_capture_default();
  add_recordings_option(command, "RESULTS", call.results,
                        "files that windway batch --results has written;\n- is standard input");
  add_bench_options(command, call.bench);
  add_bench_result_options(command, call.result, {"text", "csv", "jsonl", "junit", "json"});
  command.footer(summary_examples);
}

int summarise(const SummaryCall& call) {
  check_recordings(call.results, "which results? as in: windway summary bench.jsonl");
  BenchWriter writer(call.result, call.bench, call.results);
  const std::size_t bad =
      read_saved_lines(call.results, [&](const BenchEntry& entry, std::string_view line) { writer.add(entry, line); });
  writer.finish();
  return bad > 0 ? exit_recording : exit_status_of(writer.tally());
}

void add_history(CLI::App& app, HistoryCall& call) {
  CLI::App& command = *app.add_subcommand("history", "all takes of one instrument, and what the work changed");
  command.group("Commands");
  command.option_defaults()->always_capture_default();
  command.add_option("SERIAL", call.serial, "of the instrument")->type_name("")->default_str("");
  command.add_option("--results", call.results, "files that windway batch --results has written;\n- is standard input")
      ->group("The results")
      ->type_name("FILE")
      ->default_str("");
  add_result_options(command, call.result, {"text", "csv", "json"});
  command.footer(history_examples);
}

int tell_history(const HistoryCall& call) {
  if (call.serial.empty()) refuse("which instrument? as in: windway history HW-0412 --results bench.jsonl");
  check_recordings(call.results, "which results? as in: windway history " + call.serial + " --results bench.jsonl");
  const auto file = open_result(call.result, call.results);
  std::vector<BenchEntry> takes;
  const std::size_t bad = read_saved_lines(call.results, [&](const BenchEntry& entry, std::string_view) {
    if (entry.subject.serial == call.serial) takes.push_back(entry);
  });
  if (takes.empty()) throw Error(ErrorKind::recording, "no take of " + call.serial + " is in these results");
  write_result(file, history_report(history_of(std::move(takes)), call.result.format));
  return bad > 0 ? exit_recording : exit_measured;
}

}  // namespace windway::cli
