// SPDX-License-Identifier: GPL-3.0-or-later
#include "playing.hpp"

#include <CLI/CLI.hpp>
#include <memory>

#include "call_files.hpp"
#include "call_words.hpp"
#include "exit_status.hpp"
#include "options.hpp"
#include "playing/playing.hpp"
#include "report/pages/player_pages.hpp"
#include "report/player/playing_report.hpp"
#include "report/wording/prose.hpp"
#include "results/output_file.hpp"
#include "shared_settings.hpp"
#include "terminal.hpp"

namespace windway::cli {
namespace {

/// `windway playing` as it was called.
struct PlayingCall {
  std::vector<std::string> melodies;
  std::string against;
  TakeOptions take;
  ResultOptions result;
};

constexpr auto playing_examples = R"(Examples:
  windway playing tune.wav --against scale.wav --kind whistle --lowest D
  windway playing tune.wav --against scale.json --head-out 3.5

Play one flute alone, half a minute or more of your usual music, and leave the
head where it is.

Exit status: 0 measured; 2 a mistake in the call; 3 a recording could not be
read or judged; 4 the result could not be written; 130 interrupted.)";

std::string report_of(const Playing& playing, const ResultOptions& result) {
  if (result.format == "json") return playing_json(playing, WINDWAY_VERSION);
  if (result.format == "csv") return playing_csv(playing);
  if (result.format == "html") return playing_page(playing, page_source());
  return text_of(playing_prose(playing), columns_for(result));
}

void playing_and_report(const PlayingCall& call) {
  check_recordings(call.melodies, "which recording? as in: windway playing tune.wav --against scale.wav");
  if (call.melodies.size() != 1) refuse("playing takes one melody; the scale take goes with --against");
  std::vector<std::string> recordings = call.melodies;
  if (!call.against.empty()) recordings.push_back(call.against);
  check_recordings(recordings, "");
  std::vector<std::string> inputs = files_of(call.take);
  inputs.insert(inputs.end(), recordings.begin(), recordings.end());
  const auto file = open_result(call.result, inputs);
  MeasureSettings settings = settings_of(call.take);
  std::vector<NoteBreath> scale_take;
  if (!call.against.empty()) {
    const Measurement take = measured_or_saved(call.against, call.take, settings);
    scale_take = take.breath.notes;
    settings.tuning = take.settings.tuning;  // only against one set of targets can the two be compared
    settings.a4_u95_hz = take.settings.a4_u95_hz;
    if (!settings.instrument.instrument) settings.instrument.instrument = take.naming.instrument;
  }
  const Playing playing = measure_playing(call.melodies.front(), settings, scale_take);
  if (call.result.format == "csv") complain_of(playing.warnings);
  write_result(file, report_of(playing, call.result));
}

}  // namespace

Action declare_playing(CLI::App& command) {
  const auto call = std::make_shared<PlayingCall>();
  add_recordings_option(command, "MELODY", call->melodies, "a recorded melody, of notes of 0.08 s and more");
  command
      .add_option("--against", call->against,
                  "the scale take to compare it with: a recording, or a\n"
                  "result saved with --format json --output FILE")
      ->group("The recording")
      ->type_name("TAKE");
  add_warm_option(command, call->take.blow);
  add_take_options(command, call->take);
  add_result_options(command, call->result, {"text", "csv", "json", "html"});
  command.footer(playing_examples);
  return [call] { return playing_and_report(*call), exit_measured; };
}

}  // namespace windway::cli
