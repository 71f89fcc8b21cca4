// SPDX-License-Identifier: GPL-3.0-or-later
#include <CLI/CLI.hpp>

#include "measure.hpp"
#include "options.hpp"

namespace windway::cli {
namespace {

constexpr auto examples = R"(Examples:
  windway measure scale.wav --kind whistle --lowest D
  windway measure --soft p.wav --moderate mf.wav --hard f.wav --kind recorder --lowest C5 --a4 442

Exit status: 0 measured; 2 a mistake in the call; 3 a recording could not be read or judged;
4 the result could not be written; 130 interrupted.)";

void add_recordings(CLI::App& command, MeasureCall& call) {
  const std::string group = "The recording";
  command
      .add_option("TAKE", call.takes,
                  "recorded scale, any sound file (WAV, FLAC, Ogg, MP3, ...);\n"
                  "- is standard input; several takes of one flute are put together")
      ->type_name("")
      ->default_str("");
  const auto add_blown_take = [&](const char* name, std::vector<std::string>& takes, const char* what) {
    command.add_option(name, takes, what)->group(group)->type_name("TAKE")->default_str("")->allow_extra_args(false);
  };
  add_blown_take("--soft", call.soft_takes, "a take blown soft throughout");
  add_blown_take("--moderate", call.moderate_takes, "a take blown moderately throughout");
  add_blown_take("--hard", call.hard_takes, "a take blown hard throughout");
  auto* blown = command.add_option("--blown", call.blown,
                                   "the blows of each note in order: soft,moderate,hard\n"
                                   "(else judged from level, breath noise, colour and pitch)");
  blown->group(group)->type_name("BLOWS")->default_str("")->delimiter(',')->allow_extra_args(false);
  accept_choices(blown, {"soft", "moderate", "hard"});
  auto* min_hold =
      command.add_option("--min-hold", call.settings.hold_rules.min_hold_s, "shortest held note that counts");
  accept_numbers(min_hold->group(group), {0.05, 10, "SECONDS", "seconds", ""});
}

void add_instrument(CLI::App& command, MeasureCall& call) {
  const std::string group = "The instrument";
  accept_choices(command.add_option("--kind", call.kind, "whistle or recorder (else judged from the recording)")
                     ->group(group)
                     ->type_name("KIND"),
                 {"whistle", "recorder"});
  command
      .add_option("--lowest", call.lowest,
                  "its lowest note, sounding pitch: D, Bb, F#4\n(else judged from the recording)")
      ->group(group)
      ->type_name("NOTE")
      ->check([](const std::string& note) -> std::string {  // a script whose variable is empty means to say something
        return note.empty() ? "'' names no note; give one, as in --lowest D, or leave it out" : "";
      });
  accept_choices(command.add_option("--note-names", call.note_names, "english (B, Bb) or german (H, B)")
                     ->group(group)
                     ->type_name("NAMES"),
                 {"english", "german"});
}

void add_pitch_and_air(CLI::App& command, MeasureCall& call) {
  const std::string group = "The pitch and the air";
  accept_numbers(command.add_option("--a4", call.settings.a4_hz, "reference pitch, the frequency of A4")->group(group),
                 {300, 600, "HZ", "Hz", "concert pitch is 440"});
  accept_numbers(
      command.add_option("--bore-temp", call.settings.air.temperature_c, "temperature of the air in the blown flute")
          ->group(group),
      {0, 45, "CELSIUS", "degrees Celsius", "a blown flute has about 25"});
}

void add_head(CLI::App& command, MeasureCall& call) {
  const std::string group = "The head";
  accept_numbers(
      command.add_option("--head-out", call.head_out_mm, "how far it was drawn out while recording")->group(group),
      {0, 100, "MM", "mm", ""});
  command.add_flag("--fully-in", call.is_fully_in, "it was fully in while recording")->group(group);
  accept_numbers(command.add_option("--travel", call.travel_mm, "how far it can be drawn out at most")->group(group),
                 {0.1, 100, "MM", "mm", ""});
  command.add_flag("--fixed-head", call.is_fixed_head, "it does not move: say only what the breath must do")
      ->group(group);
}

void add_result(CLI::App& command, MeasureCall& call) {
  const std::string group = "The result";
  accept_choices(command.add_option("--format", call.format, "text to read, csv with a row a note, or json with all")
                     ->group(group)
                     ->type_name("FORMAT"),
                 {"text", "csv", "json"});
  command.add_option("--output", call.output, "write it there, whole or not at all (else standard output)")
      ->group(group)
      ->type_name("FILE");
  command.set_help_flag("--help", "print this and end")->group("Help");
}

}  // namespace

void add_measure(CLI::App& app, MeasureCall& call) {
  CLI::App& command = *app.add_subcommand("measure", "what to do with the head, and a table of the notes");
  command.group("Commands");
  command.option_defaults()->always_capture_default();
  add_recordings(command, call);
  add_instrument(command, call);
  add_pitch_and_air(command, call);
  add_head(command, call);
  add_result(command, call);
  command.footer(examples);
}

}  // namespace windway::cli
