// SPDX-License-Identifier: GPL-3.0-or-later
#include "measure_options.hpp"

#include <CLI/CLI.hpp>

#include "options.hpp"
#include "report/pages/measurement_page.hpp"

namespace windway::cli {
namespace {

constexpr auto measure_examples = R"(Examples:
  windway measure scale.wav --kind whistle --lowest D
  windway measure in.wav 3mm.wav 6mm.wav --head-out 0,3,6 \
      --instrument 'D whistle'
  windway measure --soft p.wav --moderate mf.wav --hard f.wav \
      --kind recorder --lowest C5 --a4 442

Exit status: 0 measured; 2 a mistake in the call; 3 a recording could not be
read or judged; 4 the result could not be written; 130 interrupted.)";

void add_recordings(CLI::App& command, MeasureCall& call) {
  const std::string group = "The recording";
  command
      .add_option("TAKE", call.takes,
                  "a recorded scale, any sound file (WAV, FLAC, Ogg, MP3, ...);\n"
                  "- is standard input; several takes of one flute give one\n"
                  "result, also with the head at several places: --head-out 0,2,4")
      ->type_name("")
      ->default_str("");
  const auto add_blown_take = [&](const char* name, std::vector<std::string>& takes, const char* what) {
    command.add_option(name, takes, what)->group(group)->type_name("TAKE")->default_str("")->allow_extra_args(false);
  };
  add_blown_take("--soft", call.soft_takes, "a take blown soft throughout");
  add_blown_take("--moderate", call.moderate_takes, "a take blown moderately throughout");
  add_blown_take("--hard", call.hard_takes, "a take blown hard throughout");
  command
      .add_option("--weights-from", call.weights_from,
                  "a recorded melody: a note counts more the longer it sounds there\n(else all count alike)")
      ->group(group)
      ->type_name("MELODY");
}

}  // namespace

void add_measure_options(CLI::App& command, MeasureCall& call) {
  add_recordings(command, call);
  add_scale_take_options(command, call.take);
  add_result_options(command, call.result, {"text", "csv", "json", "html", "svg"});
  add_figure_options(command, call.result, measurement_figures());
  command.footer(measure_examples);
}

}  // namespace windway::cli
