// SPDX-License-Identifier: GPL-3.0-or-later
#include "sheet.hpp"

#include <CLI/CLI.hpp>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <memory>
#include <system_error>

#include "bench_options.hpp"
#include "call_files.hpp"
#include "earlier_report.hpp"
#include "exit_status.hpp"
#include "help.hpp"
#include "options.hpp"
#include "repeated_notes.hpp"
#include "report/lines/read_entry.hpp"
#include "report/measurement/saved.hpp"
#include "report/pages/sheet_page.hpp"
#include "report/wording/verdict_words.hpp"
#include "report/wording/words.hpp"
#include "results/output_file.hpp"
#include "shared_settings.hpp"
#include "sheet_choice.hpp"
#include "sheet_folder.hpp"
#include "sheet_of_line.hpp"
#include "terminal.hpp"
#include "units/count_in_words.hpp"
#include "verdict/verdict.hpp"

namespace windway::cli {
namespace {

namespace fs = std::filesystem;

/// `windway sheet` as it was called.
struct SheetCall {
  std::vector<std::string> of;  ///< a saved result or a take; with `results` a serial
  std::vector<std::string> results;
  std::string stage;
  bool is_of_all = false;
  LimitOptions limits;
  TakeOptions take;
  ResultOptions result;
};

constexpr auto sheet_examples = R"(Examples:
  windway sheet HW-1002 --results bench.jsonl --output HW-1002.html
  windway sheet --all --results bench.jsonl --stage final --output sheets
  windway sheet before.json --instrument my-flute.toml --output sheet.html

The sheet is a page (HTML) to print on A4 at 100 %. The maker's name, address
and model come from the table [maker] of the instrument file; results keep them.
A result is saved with windway measure TAKE --format json --output FILE.
A sheet has the verdict that windway batch wrote into the results. If you give
limits, a saved result is judged again, as by windway summary: one limit then
holds for all notes.

Exit status: 0 written; 2 a mistake in the call; 3 no take has this serial, or
its measurement is too doubtful for a sheet, or a file could not be read, or
with --all no instrument passes; 4 a sheet could not be written; 130
interrupted.)";

SheetFacts judged_facts(const Measurement& measurement, const JudgeLimits& limits) {
  SheetFacts facts;
  if (!measurement.takes.empty()) facts.subject.recorded_at = measurement.takes.front().recorded_at;
  if (!asks_anything(limits)) return facts;
  const Verdict verdict = judge(measurement, limits);
  facts.result = verdict.result;
  for (const Judged& each : verdict.judged)
    facts.judged.push_back({each, reason_in_words(each, measurement.naming.instrument)});
  return facts;
}

/// Of a take that is measured now: judged by what the call asks, and for the rest the instrument file, as windway batch
/// judges.
SheetFacts facts_of_take(const SheetCall& call, const Measurement& measurement) {
  JudgeLimits limits = limits_for(limits_of(call.limits), measurement.settings.instrument.instrument);
  limits.every_note = fs::is_regular_file(call.take.flute.instrument);
  return judged_facts(measurement, limits);
}

/// Of a saved result; one line of windway batch alone in a file says its serial and verdict too.
SheetFacts saved_facts(const SheetCall& call, const Measurement& measurement, RepeatedNotes& notes) {
  const std::string& path = call.of.front();
  const JudgeLimits limits = limits_of(call.limits);
  std::ifstream file(path, std::ios::binary);
  std::string line{std::istreambuf_iterator<char>(file), {}};
  while (line.ends_with('\n')) line.pop_back();
  if (const auto entry = EntryReader().read(line)) {
    note_counting(*entry, notes);
    return sheet_facts(judged_as_called(*entry, limits));
  }
  return judged_facts(measurement, limits);
}

/// Of a saved result or a take.
int write_of_take(const SheetCall& call, const CLI::App& command) {
  const std::string& path = call.of.front();
  if (path.ends_with(".jsonl"))
    refuse(path + " holds many instruments: give one serial, as in: windway sheet HW-1002 --results " + path +
           "; or all: windway sheet --all --results " + path + " --output FOLDER");
  if (!call.stage.empty()) refuse("--stage needs --results; leave --stage out");
  const bool is_saved = is_saved_result(path);
  if (is_saved) refuse_take_options(command, path + " is a saved result", {"--instrument"});
  std::vector<std::string> inputs = files_of(call.take);
  inputs.push_back(path);
  const auto file = open_result(call.result, inputs);
  const MeasureSettings settings = settings_of(call.take);
  const auto said = is_saved ? maker_said(call.take.flute.instrument) : settings.instrument.instrument;
  const Measurement measurement = measured_or_saved(path, call.take, settings);
  RepeatedNotes notes;
  const SheetFacts facts = is_saved ? saved_facts(call, measurement, notes) : facts_of_take(call, measurement);
  const std::string sheet = sheet_of(measurement, facts, said, path, notes);
  notes.tell();
  write_result(file, sheet);
  return exit_measured;
}

std::vector<std::string> inputs_of(const SheetCall& call) {
  std::vector<std::string> inputs = files_of(call.take);
  inputs.insert(inputs.end(), call.of.begin(), call.of.end());
  inputs.insert(inputs.end(), call.results.begin(), call.results.end());
  return inputs;
}

std::optional<std::string> stage_of(const SheetCall& call) {
  return call.stage.empty() ? std::nullopt : std::optional(call.stage);
}

void check_results(const SheetCall& call, const CLI::App& command, const std::string& example) {
  check_recordings(call.results, "which results? as in: windway sheet " + example + " --results bench.jsonl");
  refuse_take_options(command, "--results holds saved results", {"--instrument", "--stage", "--all"});
}

/// Of a serial in a bench's results.
int write_of_serial(const SheetCall& call, const CLI::App& command) {
  const std::string& serial = call.of.front();
  check_results(call, command, serial);
  const auto file = open_result(call.result, inputs_of(call));
  const auto said = maker_said(call.take.flute.instrument);
  const SavedLines lines(call.results);
  const SheetChoice choice = choose_takes(lines, serial, stage_of(call), limits_of(call.limits));
  if (!choice.undecided.empty()) refuse("no sheet of " + serial + ": " + choice.undecided.begin()->second);
  if (choice.takes.empty())
    throw Error(ErrorKind::recording, "these results have no take of " + serial +
                                          (call.stage.empty() ? "" : " at stage " + call.stage) + " that counts");
  std::string sheet;
  RepeatedNotes notes;
  read_chosen(lines, choice,
              [&](const BenchEntry& entry, std::string_view line) { sheet = sheet_of_line(entry, line, said, notes); });
  notes.tell();
  write_result(file, sheet);
  return choice.bad_lines > 0 ? exit_recording : exit_measured;
}

/// Why the instrument gets no sheet among all; empty: it passes.
std::string why_left_out(const ChosenTake& take) {
  if (take.is_of_keeper) return "it is the bench's own flute";
  if (!take.result) return take.why_not.empty() ? "it was not judged, as no limits were given" : take.why_not;
  if (*take.result == VerdictResult::pass) return "";
  return std::string(verdict_in_words(*take.result)) + (take.why_not.empty() ? "" : ": " + take.why_not);
}

void check_all(const SheetCall& call, const CLI::App& command) {
  if (!call.of.empty()) refuse("--all writes the sheets of all instruments; leave out " + call.of.front());
  check_results(call, command, "--all");
  if (!call.result.output || call.result.output->empty() || *call.result.output == "-")
    refuse("--all writes a file for each instrument; say into which folder, as in --output sheets");
}

SheetFolder folder_for(const SheetCall& call, const SheetChoice& choice) {
  std::vector<std::string> serials;
  for (const auto& [serial, take] : choice.takes) serials.push_back(serial);
  for (const auto& [serial, why] : choice.undecided) serials.push_back(serial);
  return {*call.result.output, serials, inputs_of(call)};
}

/// Those that get a sheet.
SheetChoice passing(SheetChoice choice, SheetFolder& folder) {
  for (const auto& [serial, why] : choice.undecided) folder.leave_out(serial, why);
  for (auto take = choice.takes.begin(); take != choice.takes.end();) {
    const std::string why = why_left_out(take->second);
    if (!why.empty()) folder.leave_out(take->first, why);
    take = why.empty() ? std::next(take) : choice.takes.erase(take);
  }
  return choice;
}

/// What no sheet can be made of is left out.
void write_chosen(const SavedLines& lines, const SheetChoice& choice, const std::optional<Instrument>& said,
                  SheetFolder& folder, RepeatedNotes& notes) {
  read_chosen(lines, choice, [&](const BenchEntry& entry, std::string_view line) {
    std::string sheet;
    try {
      sheet = sheet_of_line(entry, line, said, notes);
    } catch (const Error& failure) {
      return folder.leave_out(*entry.subject.serial, failure.what());
    }
    folder.write(*entry.subject.serial, sheet);
  });
}

int write_of_all(const SheetCall& call, const CLI::App& command) {
  check_all(call, command);
  const auto said = maker_said(call.take.flute.instrument);
  const SavedLines lines(call.results);
  const SheetChoice choice = choose_takes(lines, std::nullopt, stage_of(call), limits_of(call.limits));
  SheetFolder folder = folder_for(call, choice);
  RepeatedNotes notes;
  const auto report = [&] {
    print(folder.report(columns_of_output()));
    notes.tell();
  };
  try {
    write_chosen(lines, passing(choice, folder), said, folder, notes);
  } catch (const Error&) {
    report();  // some sheets may be written
    throw;
  }
  report();
  if (choice.without_serial > 0)
    complain("note: " + count_in_words(choice.without_serial, "take") + " without a serial " +
             (choice.without_serial == 1 ? "has" : "have") + " no sheet");
  return choice.bad_lines > 0 || folder.written() == 0 ? exit_recording : exit_measured;
}

/// One word that is no file is a serial.
int write_sheet(const SheetCall& call, const CLI::App& command) {
  if (call.is_of_all) return write_of_all(call, command);
  if (call.of.empty())
    refuse(
        "of which instrument? as in: windway sheet HW-1002 --results bench.jsonl; or of a saved result: windway sheet "
        "before.json");
  if (call.of.size() > 1) refuse("a sheet is of one instrument; for a whole bench: windway sheet --all --results FILE");
  std::error_code failure;
  const bool is_file = call.of.front() == "-" || fs::exists(call.of.front(), failure);
  if (!is_file && call.results.empty())
    refuse("no file is called " + call.of.front() + "; if it is a serial, say where its results are: windway sheet " +
           call.of.front() + " --results bench.jsonl");
  return call.results.empty() ? write_of_take(call, command) : write_of_serial(call, command);
}

void add_bench(CLI::App& command, SheetCall& call) {
  const std::string group = "The bench";
  add_saved_lines_option(command, call.results);
  command.add_option("--stage", call.stage, "use the take of this stage of the work (else of the last stage)")
      ->group(group)
      ->type_name("STAGE");
  command.add_flag("--all", call.is_of_all, "write a sheet for each instrument that passes, into the folder --output")
      ->group(group);
}

}  // namespace

Action declare_sheet(CLI::App& command) {
  const auto call = std::make_shared<SheetCall>();
  add_recordings_option(command, "RESULT|SERIAL", call->of,
                        "a saved result or a recording, or the serial of an instrument in\n--results");
  add_bench(command, *call);
  add_limit_options(command, call->limits, "those of the batch or instrument file");
  add_scale_take_options(command, call->take);
  add_output_option(command, call->result);
  add_help_option(command);
  command.footer(sheet_examples);
  return [call, &command] {
    const auto write = [call, &command] { return write_sheet(*call, command); };
    if (call->is_of_all) return write();  // --output is a folder, no earlier report
    return without_earlier_report(call->result, inputs_of(*call), write);
  };
}

}  // namespace windway::cli
