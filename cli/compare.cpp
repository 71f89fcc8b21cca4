// SPDX-License-Identifier: GPL-3.0-or-later
#include "compare.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <memory>

#include "call_files.hpp"
#include "call_words.hpp"
#include "compare/compare.hpp"
#include "exit_status.hpp"
#include "options.hpp"
#include "report/measurement/saved.hpp"
#include "report/pages/player_pages.hpp"
#include "report/player/compare_report.hpp"
#include "report/wording/prose.hpp"
#include "results/output_file.hpp"
#include "shared_settings.hpp"
#include "terminal.hpp"

namespace windway::cli {
namespace {

/// `windway compare` as it was called.
struct CompareCall {
  std::vector<std::string> takes;
  std::optional<double> drawn_out_mm;
  std::optional<double> pushed_in_mm;
  bool same_setting = false;
  TakeOptions take;
  ResultOptions result;
};

constexpr auto compare_examples = R"(Examples:
  windway compare before.wav after.wav --drawn-out 4 --kind whistle --lowest D
  windway compare monday.json friday.json --same-setting

Each of the two is a recording, or a result saved with
windway measure TAKE --format json --output FILE.

Exit status: 0 measured; 2 a mistake in the call; 3 a recording could not be
read or judged; 4 the result could not be written; 130 interrupted.)";

CompareHint hint_of_call(const CompareCall& call) {
  if (call.drawn_out_mm && call.pushed_in_mm) refuse("--drawn-out and --pushed-in contradict each other; give one");
  if (call.same_setting && (call.drawn_out_mm || call.pushed_in_mm)) {
    refuse("--same-setting says that the head was not moved; leave out --drawn-out and --pushed-in");
  }
  CompareHint hint;
  hint.same_setting = call.same_setting;
  hint.drawn_out_mm = call.drawn_out_mm;
  if (call.pushed_in_mm) hint.drawn_out_mm = -*call.pushed_in_mm;
  return hint;
}

std::string report_of(const Comparison& comparison, const Measurement& before, const Measurement& after,
                      const ResultOptions& result) {
  if (result.format == "json") return compare_json(comparison, WINDWAY_VERSION);
  if (result.format == "csv") return compare_csv(comparison, before);
  if (result.format == "html") return compare_page(comparison, before, after, page_source());
  return text_of(compare_prose(comparison, before), columns_for(result));
}

void compare_and_report(const CompareCall& call) {
  check_recordings(call.takes, "which takes? as in: windway compare before.wav after.wav --drawn-out 4");
  if (call.takes.size() != 2) refuse("give two takes: one before and one after");
  const CompareHint hint = hint_of_call(call);
  std::vector<std::string> inputs = files_of(call.take);
  inputs.insert(inputs.end(), call.takes.begin(), call.takes.end());
  const auto file = open_result(call.result, inputs);
  const PitchOptions& pitch = call.take.pitch;
  if (std::ranges::all_of(call.takes, is_saved_result) &&
      (pitch.bore_temp_c || pitch.humidity_percent || pitch.co2_percent))
    refuse("both are saved results, so --bore-temp, --humidity and --co2 have no effect; leave them out");
  MeasureSettings settings = settings_of(call.take);
  const Measurement before = measured_or_saved(call.takes[0], call.take, settings);
  if (!settings.instrument.instrument) settings.instrument.instrument = before.naming.instrument;
  const Measurement after = measured_or_saved(call.takes[1], call.take, settings);
  const Comparison comparison = compare(before, after, hint);
  if (call.result.format == "csv") complain_of(comparison.warnings);
  write_result(file, report_of(comparison, before, after, call.result));
}

}  // namespace

Action declare_compare(CLI::App& command) {
  const auto call = std::make_shared<CompareCall>();
  add_recordings_option(command, "BEFORE AFTER", call->takes, "two takes of one flute, or their saved results");
  const std::string group = "What was done between them";
  accept_numbers(command.add_option("--drawn-out", call->drawn_out_mm, "how far the head was drawn out")->group(group),
                 {0.01, 100, "MM", "mm", ""});
  accept_numbers(command.add_option("--pushed-in", call->pushed_in_mm, "how far the head was pushed in")->group(group),
                 {0.01, 100, "MM", "mm", ""});
  command.add_flag("--same-setting", call->same_setting, "nothing: shows how well you repeat a take")->group(group);
  add_take_options(command, call->take);
  add_result_options(command, call->result, {"text", "csv", "json", "html"});
  command.footer(compare_examples);
  return [call] { return compare_and_report(*call), exit_measured; };
}

}  // namespace windway::cli
