// SPDX-License-Identifier: GPL-3.0-or-later
#include "history.hpp"

#include <CLI/CLI.hpp>
#include <memory>

#include "bench/history.hpp"
#include "call_files.hpp"
#include "exit_status.hpp"
#include "options.hpp"
#include "report/bench/history_report.hpp"
#include "results/saved_lines.hpp"
#include "terminal.hpp"

namespace windway::cli {
namespace {

/// `windway history` as it was called.
struct HistoryCall {
  std::string serial;
  std::vector<std::string> results;
  ResultOptions result;
};

constexpr auto examples = R"(Examples:
  windway history HW-0412 --results bench.jsonl
  windway history HW-0412 --results raw.jsonl --results final.jsonl

Exit status: 0 told; 2 a mistake in the call; 3 no take is of this serial, or a
file could not be read; 4 the result could not be written; 130 interrupted.)";

std::string history_report(const History& history, const ResultOptions& result) {
  if (result.format == "json") return history_json(history, WINDWAY_VERSION);
  return result.format == "csv" ? history_csv(history) : history_text(history, columns_for(result));
}

int tell_history(const HistoryCall& call) {
  if (call.serial.empty()) refuse("which instrument? as in: windway history HW-0412 --results bench.jsonl");
  check_recordings(call.results, "which results? as in: windway history " + call.serial + " --results bench.jsonl");
  const auto file = open_result(call.result, call.results);
  std::vector<BenchEntry> takes;
  const std::size_t bad = read_saved_lines(
      call.results,
      [&](const BenchEntry& entry, std::string_view) {
        if (entry.subject.serial == call.serial) takes.push_back(entry);
      },
      [](const std::string& warning) { complain("warning: " + warning); });
  if (takes.empty()) throw Error(ErrorKind::recording, "no take of " + call.serial + " is in these results");
  write_result(file, history_report(history_of(std::move(takes)), call.result));
  return bad > 0 ? exit_recording : exit_measured;
}

}  // namespace

Action declare_history(CLI::App& command) {
  const auto call = std::make_shared<HistoryCall>();
  command.add_option("SERIAL", call->serial, "of the instrument")->type_name("")->default_str("");
  command
      .add_option("--results", call->results, "files that windway batch --results has written;\n- is standard input")
      ->group("The results")
      ->type_name("FILE")
      ->default_str("");
  add_result_options(command, call->result, {"text", "csv", "json"});
  command.footer(examples);
  return [call] { return tell_history(*call); };
}

}  // namespace windway::cli
