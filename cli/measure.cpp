// SPDX-License-Identifier: GPL-3.0-or-later
#include "measure.hpp"

#include <algorithm>
#include <filesystem>
#include <memory>

#include "analysis.hpp"
#include "output_file.hpp"
#include "report/csv.hpp"
#include "report/json.hpp"
#include "report/text.hpp"
#include "terminal.hpp"

namespace windway::cli {
namespace {

[[noreturn]] void refuse(const std::string& message) { throw Error(ErrorKind::usage, message); }

Blow blow_called(const std::string& name) {
  if (name == "soft") return Blow::soft;
  return name == "hard" ? Blow::hard : Blow::moderate;
}

/// All takes in one row, and the blow of each where it was said.
std::vector<std::string> gather_takes(const MeasureCall& call, BlowHint& hint) {
  std::vector<std::string> paths = call.takes;
  std::vector<std::optional<Blow>> blow_of_take(paths.size());
  const auto append = [&](const std::vector<std::string>& takes, Blow blow) {
    paths.insert(paths.end(), takes.begin(), takes.end());
    blow_of_take.resize(paths.size(), blow);
  };
  append(call.soft_takes, Blow::soft);
  append(call.moderate_takes, Blow::moderate);
  append(call.hard_takes, Blow::hard);
  if (paths.size() > call.takes.size()) hint.blow_of_take = blow_of_take;
  return paths;
}

bool is_same_file(const std::string& path, const std::string& other) {
  std::error_code failure;
  return path == other || std::filesystem::equivalent(path, other, failure);
}

void check_takes(const std::vector<std::string>& paths, const std::optional<std::string>& output) {
  if (paths.empty()) refuse("which recording? as in: windway measure my-scale.wav --kind whistle --lowest D");
  for (auto path = paths.begin(); path != paths.end(); ++path) {
    if (output && *output != "-" && is_same_file(*path, *output)) {
      refuse("--output would overwrite the recording " + *path);
    }
    if (std::any_of(paths.begin(), path, [&](const auto& before) { return is_same_file(before, *path); })) {
      refuse("the same recording is given twice: " + *path);
    }
  }
}

void check_contradictions(const MeasureCall& call) {
  const bool says_place = call.is_fully_in || call.head_out_mm;
  if (call.is_fully_in && call.head_out_mm) refuse("--fully-in and --head-out contradict each other; give one");
  if (call.is_fixed_head && (says_place || call.travel_mm)) {
    refuse("--fixed-head says that the head does not move; leave out --fully-in, --head-out and --travel");
  }
  if (call.head_out_mm && call.travel_mm && *call.head_out_mm > *call.travel_mm) {
    refuse("--head-out is more than --travel: the head cannot stand further out than it can go");
  }
  if (call.output && call.output->empty()) refuse("--output needs the name of a file");
  const bool says_takes = !call.soft_takes.empty() || !call.moderate_takes.empty() || !call.hard_takes.empty();
  if (!call.blown.empty() && says_takes) {
    refuse("--blown says the order within a take, --soft, --moderate and --hard a whole take; give one or the other");
  }
  if (!call.takes.empty() && says_takes) {
    refuse("--soft, --moderate and --hard say how a whole take was blown; say it of every take, or of none");
  }
}

/// The settings, without what --blown says.
MeasureSettings settings_of(const MeasureCall& call) {
  MeasureSettings settings = call.settings;
  settings.note_names = call.note_names == "german" ? NoteNames::german : NoteNames::english;
  settings.instrument.note_names = settings.note_names;
  if (!call.kind.empty()) settings.instrument.kind = call.kind == "recorder" ? Kind::recorder : Kind::whistle;
  if (!call.lowest.empty()) settings.instrument.lowest = parse_note(call.lowest, settings.note_names);
  settings.head.moves = !call.is_fixed_head;
  settings.head.out_mm = call.is_fully_in ? std::optional(0.0) : call.head_out_mm;
  settings.head.travel_mm = call.travel_mm;
  return settings;
}

std::string report_of(const Measurement& measurement, const std::string& format) {
  if (format == "json") return json_report(measurement, WINDWAY_VERSION);
  if (format == "csv") return csv_report(measurement);
  return text_report(measurement);
}

}  // namespace

void measure_and_report(MeasureCall call) {
  check_contradictions(call);
  MeasureSettings settings = settings_of(call);
  for (const std::string& name : call.blown) settings.blows.order.push_back(blow_called(name));
  const std::vector<std::string> paths = gather_takes(call, settings.blows);
  check_takes(paths, call.output);
  const auto file = !call.output || *call.output == "-" ? nullptr : std::make_unique<OutputFile>(*call.output);
  const Measurement measurement = measure(paths, settings);
  if (call.format == "csv") {
    for (const Warning& warning : measurement.warnings) complain("warning: " + warning.message);
  }
  const std::string report = report_of(measurement, call.format);
  file ? file->finish(report) : print(report);
}

}  // namespace windway::cli
