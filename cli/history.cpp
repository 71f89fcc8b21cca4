// SPDX-License-Identifier: GPL-3.0-or-later
#include "history.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <filesystem>
#include <memory>
#include <system_error>

#include "analysis.hpp"
#include "bench/history.hpp"
#include "call_files.hpp"
#include "call_words.hpp"
#include "compare/take_history.hpp"
#include "exit_status.hpp"
#include "options.hpp"
#include "report/bench/history_report.hpp"
#include "report/measurement/saved.hpp"
#include "report/pages/history_page.hpp"
#include "report/pages/player_pages.hpp"
#include "report/player/take_history_report.hpp"
#include "report/wording/prose.hpp"
#include "results/output_file.hpp"
#include "results/saved_lines.hpp"
#include "shared_settings.hpp"
#include "terminal.hpp"

namespace windway::cli {
namespace {

/// `windway history` as it was called.
struct HistoryCall {
  std::vector<std::string> of;  ///< results and takes of one flute; with `results` a serial
  std::vector<std::string> results;
  TakeOptions take;
  ResultOptions result;
};

constexpr auto history_examples = R"(Examples:
  windway history monday.json friday.json
  windway history a.wav b.wav --kind whistle --lowest D --fully-in
  windway history HW-0412 --results bench.jsonl
  windway history HW-0412 --results raw.jsonl --results final.jsonl

A result is saved with windway measure TAKE --format json --output FILE. The
options for takes hold for all recordings alike. If the head was moved between
them, save the result of each.

Exit status: 0 written; 2 a mistake in the call; 3 no take has this serial, or a
file could not be read; 4 the result could not be written; 130 interrupted.)";

std::string history_report(const History& history, const ResultOptions& result) {
  if (result.format == "json") return history_json(history, WINDWAY_VERSION);
  if (result.format == "csv") return history_csv(history);
  if (result.format == "html") return history_page(history, page_source());
  const std::size_t columns = columns_for(result);
  return text_of(history_prose(history, columns), columns);
}

std::string take_history_report(const TakeHistory& history, const std::string& format) {
  if (format == "json") return take_history_json(history, WINDWAY_VERSION);
  if (format == "html") return take_history_page(history, page_source());
  return format == "csv" ? take_history_csv(history) : text_of(take_history_prose(history));
}

/// Of results and takes, without a serial.
int tell_takes(const HistoryCall& call, const CLI::App& command) {
  check_recordings(call.of, "");
  if (std::ranges::all_of(call.of, is_saved_result)) refuse_take_options(command, "all of these are saved results");
  std::vector<std::string> inputs = files_of(call.take);
  inputs.insert(inputs.end(), call.of.begin(), call.of.end());
  const auto file = open_result(call.result, inputs);
  MeasureSettings settings = settings_of(call.take);
  std::vector<FluteResult> takes;
  for (const std::string& path : call.of)
    takes.push_back({path, is_saved_result(path) ? read_measurement(path) : measure({path}, settings)});
  write_result(file, take_history_report(take_history(std::move(takes)), call.result.format));
  return exit_measured;
}

/// Of the takes of a serial in a bench's results.
int tell_serial(const HistoryCall& call, const CLI::App& command) {
  const std::string& serial = call.of.front();
  if (call.of.size() > 1)
    refuse("--results holds many instruments: give one serial, as in: windway history " + serial +
           " --results bench.jsonl");
  check_recordings(call.results, "which results? as in: windway history " + serial + " --results bench.jsonl");
  refuse_take_options(command, "--results holds saved results");
  const auto file = open_result(call.result, call.results);
  std::vector<BenchEntry> takes;
  Repeatability repeats, of_keeper;
  const auto see = [&](const BenchEntry& entry, std::string_view) {
    if (entry.counting.is_told_twice) return;
    (entry.counting.keeper ? of_keeper : repeats).add(entry, is_usable(entry));
    if (entry.subject.serial == serial) takes.push_back(entry);
  };
  const auto warn = [](const std::string& warning) { complain("warning: " + warning); };
  const std::size_t bad = SavedLines(call.results).read(see, warn);
  if (takes.empty()) throw Error(ErrorKind::recording, "these results have no take of " + serial);
  const auto repeat = bench_repeat(repeats);
  const History history = history_of(std::move(takes), repeat ? repeat : bench_repeat(of_keeper));
  write_result(file, history_report(history, call.result));
  return bad > 0 ? exit_recording : exit_measured;
}

/// One word that is no file is a serial.
int tell_history(const HistoryCall& call, const CLI::App& command) {
  if (call.of.empty())
    refuse(
        "which takes, or which instrument? as in: windway history monday.json friday.json; or of a bench: windway "
        "history HW-0412 --results bench.jsonl");
  std::error_code failure;
  const bool is_serial = call.of.size() == 1 && !std::filesystem::exists(call.of.front(), failure);
  if (is_serial && call.results.empty())
    refuse("no file is called " + call.of.front() + "; if it is a serial, say where its results are: windway history " +
           call.of.front() + " --results bench.jsonl");
  return is_serial || !call.results.empty() ? tell_serial(call, command) : tell_takes(call, command);
}

}  // namespace

Action declare_history(CLI::App& command) {
  const auto call = std::make_shared<HistoryCall>();
  add_recordings_option(command, "TAKES|SERIAL", call->of,
                        "saved results and recordings of one flute, or the serial of an\ninstrument in --results");
  add_saved_lines_option(command, call->results);
  add_scale_take_options(command, call->take);
  add_result_options(command, call->result, {"text", "html", "csv", "json"});
  command.footer(history_examples);
  return [call, &command] { return tell_history(*call, command); };
}

}  // namespace windway::cli
