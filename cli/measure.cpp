// SPDX-License-Identifier: GPL-3.0-or-later
#include "measure.hpp"

#include <algorithm>
#include <memory>

#include "analysis.hpp"
#include "call_files.hpp"
#include "call_words.hpp"
#include "exit_status.hpp"
#include "measure_options.hpp"
#include "options.hpp"
#include "playing/playing.hpp"
#include "report/figures/head_plot.hpp"
#include "report/measurement/csv.hpp"
#include "report/measurement/json.hpp"
#include "report/measurement/saved.hpp"
#include "report/measurement/text.hpp"
#include "report/pages/measurement_page.hpp"
#include "report/wording/prose.hpp"
#include "results/output_file.hpp"
#include "shared_settings.hpp"
#include "terminal.hpp"

namespace windway::cli {
namespace {

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

void check_contradictions(const MeasureCall& call) {
  const bool says_takes = !call.soft_takes.empty() || !call.moderate_takes.empty() || !call.hard_takes.empty();
  if (!call.take.blow.blown.empty() && says_takes) {
    refuse(
        "--blown is for the notes of one take; --soft, --moderate and --hard are for a whole take; give one or the "
        "other");
  }
  if (!call.takes.empty() && says_takes) {
    refuse("--soft, --moderate and --hard say how a whole take was blown; say it of every take, or of none");
  }
  if (says_takes && call.take.head.head_out_mm.size() > 1) {
    refuse("--soft, --moderate and --hard need one place of the head; give one --head-out for all of them");
  }
}

std::vector<NoteWeight> weights_of_melody(const std::string& melody, const MeasureSettings& settings) {
  const Playing playing = measure_playing(melody, settings, {});
  complain_of(playing.warnings);
  return weights_from(playing);
}

std::string report_of(const Measurement& measurement, const ResultOptions& result) {
  if (result.format == "json")
    return json_report(measurement, WINDWAY_VERSION, result.has_curves ? Curves::written : Curves::left_out);
  if (result.format == "csv") return csv_report(measurement);
  if (result.format == "html") return measurement_page(measurement, page_source());
  if (result.format == "svg") return measurement_svg(measurement, result.figure);
  const std::size_t columns = columns_for(result);
  const auto picture = result.has_plot ? pictured(measurement) : std::nullopt;
  return text_of(measurement_prose(measurement, columns, picture ? head_plot(*picture, columns) : Prose()), columns);
}

/// The saved result that the call asks to report again; empty: the call gives takes only.
std::optional<std::string> saved_result_of(const std::vector<std::string>& paths, const MeasureCall& call,
                                           const CLI::App& command) {
  const auto saved = std::ranges::find_if(paths, is_saved_result);
  if (saved == paths.end()) return std::nullopt;
  if (paths.size() > 1) {
    refuse(*saved +
           " is a saved result, which cannot be combined with another take; measure the recordings together, or see "
           "what changed between them: windway compare, windway history");
  }
  if (call.result.has_curves)
    refuse("--curves needs the recording, but " + *saved +
           " is a saved result; leave --curves out, or give the recording");
  refuse_options_with_saved(command, *saved);
  return *saved;
}

Measurement measured(const MeasureCall& call, const std::vector<std::string>& paths, const BlowHint& blows) {
  MeasureSettings settings = settings_of(call.take, paths.size());
  settings.blows = blows;
  if (call.result.format != "json" && call.result.format != "html") settings.digest = Digest::left_out;
  if (!call.weights_from.empty()) settings.weights = weights_of_melody(call.weights_from, settings);
  Measurement measurement = measure(paths, settings);
  measurement.arguments = measuring_words();
  return measurement;
}

void measure_and_report(const MeasureCall& call, const CLI::App& command) {
  check_contradictions(call);
  check_figure_options(call.result);
  BlowHint blows = blow_hint_of(call.take.blow);
  const std::vector<std::string> paths = gather_takes(call, blows);
  check_recordings(paths, "which recording? as in: windway measure my-scale.wav --kind whistle --lowest D");
  std::vector<std::string> inputs = files_of(call.take);
  inputs.push_back(call.weights_from);
  inputs.insert(inputs.end(), paths.begin(), paths.end());
  const auto file = open_result(call.result, inputs);
  const auto saved = saved_result_of(paths, call, command);
  const Measurement measurement = saved ? read_measurement(*saved) : measured(call, paths, blows);
  if (call.result.format == "csv") complain_of(measurement.warnings);
  write_result(file, report_of(measurement, call.result));
}

}  // namespace

Action declare_measure(CLI::App& command) {
  const auto call = std::make_shared<MeasureCall>();
  add_measure_options(command, *call);
  return [call, &command] { return measure_and_report(*call, command), exit_measured; };
}

}  // namespace windway::cli
