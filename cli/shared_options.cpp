// SPDX-License-Identifier: GPL-3.0-or-later
#include "shared_options.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <CLI/CLI.hpp>

#include "help.hpp"
#include "options.hpp"

namespace windway::cli {
namespace {

constexpr auto recording_group = "The recording";
constexpr auto flute_group = "The instrument";
constexpr auto pitch_group = "The pitch and the air";
constexpr auto head_group = "The head";
constexpr auto result_group = "The result";

/// A script whose variable is empty means to say something.
std::string mistake_in_empty(const std::string& text, const std::string& example) {
  return text.empty() ? "'' names no note; give one, as in " + example + ", or leave it out" : "";
}

void add_note_option(CLI::App& command, const char* name, std::string& note, const char* what, const char* group) {
  const std::string example = std::string(name) + " D";
  command.add_option(name, note, what)->group(group)->type_name("NOTE")->check([example](const std::string& text) {
    return mistake_in_empty(text, example);
  });
}

void add_notes_option(CLI::App& command, const char* name, std::string& notes, const char* what, const char* group) {
  const std::string example = std::string(name) + " 'D5 E5 F#5'";
  command.add_option(name, notes, what)->group(group)->type_name("NOTES")->check([example](const std::string& text) {
    return mistake_in_empty(text, example);
  });
}

void add_air_options(CLI::App& command, PitchOptions& pitch) {
  accept_numbers(command.add_option("--bore-temp", pitch.bore_temp_c, "temperature of the air in the blown flute")
                     ->default_str(fmt::format("{}", Air{}.temperature_c))
                     ->group(pitch_group),
                 {0, 45, "CELSIUS", "degrees Celsius", "a blown flute has about 25"});
  accept_numbers(command
                     .add_option("--humidity", pitch.humidity_percent,
                                 "relative humidity of the air in the bore\n(else dry: in a blown bore moisture and "
                                 "the breath's CO2 cancel)")
                     ->group(pitch_group),
                 {0, 100, "PERCENT", "percent", ""});
  accept_numbers(
      command.add_option("--co2", pitch.co2_percent, "carbon dioxide in the bore (else that of outdoor air)")
          ->group(pitch_group),
      {0, 10, "PERCENT", "percent", "breath has about 4"});
  accept_numbers(command.add_option("--quote-at", pitch.quote_at_c, "give the result for a bore at this temperature")
                     ->group(pitch_group),
                 {0, 45, "CELSIUS", "degrees Celsius", "a blown flute has about 25"});
}

void add_blow_options(CLI::App& command, BlowOptions& blow) {
  auto* blown = command.add_option("--blown", blow.blown,
                                   "how each note was blown, in order: soft,moderate,hard\n"
                                   "(else judged from loudness, breath noise, tone and pitch)");
  blown->group(recording_group)->type_name("BLOWS")->default_str("")->delimiter(',')->allow_extra_args(false);
  accept_choices(blown, {"soft", "moderate", "hard"});
  auto* min_hold = command.add_option("--min-hold", blow.hold_rules.min_hold_s, "shortest held note that counts");
  accept_numbers(min_hold->group(recording_group), {0.05, 10, "SECONDS", "seconds", ""});
}

void add_order_option(CLI::App& command, FluteOptions& flute) {
  add_notes_option(command, "--order", flute.order,
                   "the notes in the order you played them: 'D5 E5 D6 D6:vented';\n"
                   "write a note once for all its blows (windway protocol prints it)",
                   flute_group);
}

void add_head_options(CLI::App& command, HeadOptions& head) {
  auto* head_out = command.add_option("--head-out", head.head_out_mm, "how far it was drawn out while recording");
  accept_numbers(head_out->group(head_group)->default_str("")->delimiter(',')->allow_extra_args(false),
                 {0, 100, "MM", "mm", ""});
  command.add_flag("--fully-in", head.is_fully_in, "it was fully in while recording")->group(head_group);
  accept_numbers(
      command.add_option("--travel", head.travel_mm, "how far it can be drawn out at most")->group(head_group),
      {0.1, 100, "MM", "mm", ""});
  command.add_flag("--fixed-head", head.is_fixed_head, "it does not move: say only how to blow")->group(head_group);
}

/// What a format is, in the help; `own`: where the command's is another.
std::string in_words(const std::string& format, const FormatWords& own) {
  static const FormatWords usual{{"text", "text"},
                                 {"csv", "csv with a row for each note"},
                                 {"json", "json with everything"},
                                 {"html", "html for a browser"},
                                 {"svg", "svg with one figure"},
                                 {"jsonl", "jsonl with everything on one line for each take"},
                                 {"junit", "junit (XML) for test servers"},
                                 {"csv-statistics", "csv-statistics with the same as a table"}};
  const auto found = own.find(format);
  return found == own.end() ? usual.at(format) : found->second;
}

}  // namespace

void add_flute_options(CLI::App& command, FluteOptions& flute) {
  command
      .add_option("--instrument", flute.instrument,
                  "a name ('D whistle', 'descant'; see windway instruments list)\nor an instrument file (TOML)")
      ->group(flute_group)
      ->type_name("FILE|NAME")
      ->check([](const std::string& text) {
        return text.empty() ? std::string("'' names no instrument; give one or leave it out") : std::string();
      });
  accept_choices(command.add_option("--kind", flute.kind, "whistle or recorder (else judged from the recording)")
                     ->group(flute_group)
                     ->type_name("KIND"),
                 {"whistle", "recorder"});
  add_note_option(command, "--lowest", flute.lowest,
                  "its lowest note as it sounds: D, Bb, F#4\n(else judged from the recording)", flute_group);
  add_notes_option(command, "--scale", flute.scale,
                   "all its notes, from the lowest up, if they are not the usual\nones of its kind: 'D5 E5 F5'",
                   flute_group);
  accept_choices(command.add_option("--note-names", flute.note_names, "english (B, Bb) or german (H, B)")
                     ->group(flute_group)
                     ->type_name("NAMES"),
                 {"english", "german"});
}

void add_tuning_options(CLI::App& command, PitchOptions& pitch) {
  accept_numbers(command.add_option("--a4", pitch.a4_hz, "reference pitch, the frequency of A4")
                     ->default_str("440")
                     ->group(pitch_group),
                 {300, 600, "HZ", "Hz", "concert pitch is 440"});
  command
      .add_option(
          "--partner", pitch.partner,
          "take A4 from this recording of a piano, an accordion or\nanother flute (--a4 then says roughly where it is)")
      ->group(pitch_group)
      ->type_name("RECORDING");
  accept_choices(
      command.add_option("--temperament", pitch.temperament, "equal, just, pythagorean or meantone (else equal)")
          ->group(pitch_group)
          ->type_name("NAME"),
      {"equal", "just", "pythagorean", "meantone"});
  add_note_option(command, "--key", pitch.key, "key note of the temperament (else the instrument's lowest note)",
                  pitch_group);
}

void add_take_options(CLI::App& command, TakeOptions& take) {
  add_flute_options(command, take.flute);
  add_tuning_options(command, take.pitch);
  add_air_options(command, take.pitch);
  add_head_options(command, take.head);
}

void add_warm_option(CLI::App& command, BlowOptions& blow) {
  command
      .add_flag("--warm", blow.is_warm,
                "the flute had been played warm before\n(else the result allows for warming that would not show)")
      ->group(recording_group);
}

void add_scale_take_options(CLI::App& command, TakeOptions& take) {
  add_blow_options(command, take.blow);
  add_warm_option(command, take.blow);
  add_flute_options(command, take.flute);
  add_order_option(command, take.flute);
  add_tuning_options(command, take.pitch);
  add_air_options(command, take.pitch);
  add_head_options(command, take.head);
}

void add_figure_option(CLI::App& command, ResultOptions& result, const std::vector<std::string>& figures) {
  accept_choices(
      command
          .add_option("--figure", result.figure,
                      fmt::format("which figure --format svg draws: {} (else the first)", fmt::join(figures, ", ")))
          ->group(result_group)
          ->type_name("NAME"),
      figures);
}

void add_figure_options(CLI::App& command, ResultOptions& result, const std::vector<std::string>& figures) {
  add_figure_option(command, result, figures);
  command.add_flag("--curves", result.has_curves, "add loudness and pitch every 50 ms to json")->group(result_group);
  command.add_flag("--plot", result.has_plot, "add the first figure to text, drawn in characters")->group(result_group);
}

void check_figure_options(const ResultOptions& result) {
  if (!result.figure.empty() && result.format != "svg")
    refuse("--figure says what --format svg draws; add --format svg");
  if (result.has_curves && result.format != "json") refuse("--curves goes into json; add --format json");
  if (result.has_plot && result.format != "text") refuse("--plot goes with text; leave out --format, or --plot");
}

/// "report.html" is to be a page, as far as the command writes one; empty: the name does not say.
std::optional<std::string> format_of_name(const std::string& path, const std::vector<std::string>& formats) {
  static const std::map<std::string, std::string> format_of_ending{
      {".html", "html"}, {".htm", "html"},  {".svg", "svg"},    {".json", "json"},
      {".csv", "csv"},   {".xml", "junit"}, {".jsonl", "jsonl"}};
  const auto found = format_of_ending.find(std::filesystem::path(path).extension().string());
  const bool is_written = found != format_of_ending.end() && std::ranges::find(formats, found->second) != formats.end();
  return is_written ? std::optional(found->second) : std::nullopt;
}

void add_result_options(CLI::App& command, ResultOptions& result, const std::vector<std::string>& formats,
                        const FormatWords& own) {
  std::string what;
  for (const std::string& format : formats) {
    what += (what.empty() ? "" : format == formats.back() ? " or " : ", ") + in_words(format, own);
  }
  what += "\n(else as the name of --output ends)";
  CLI::Option* format = command.add_option("--format", result.format, what);
  accept_choices(format->group(result_group)->type_name("FORMAT"), formats);
  add_output_option(command, result);
  command.parse_complete_callback([format, &result, formats] {
    if (format->empty() && result.output)
      result.format = format_of_name(*result.output, formats).value_or(result.format);
  });
  add_help_option(command);
}

void add_output_option(CLI::App& command, ResultOptions& result) {
  command.add_option("--output", result.output, "write to this file, whole or not at all (else to standard output)")
      ->group(result_group)
      ->type_name("FILE");
}

void add_saved_lines_option(CLI::App& command, std::vector<std::string>& results) {
  command.add_option("--results", results, saved_lines_in_words)
      ->group("The bench")
      ->type_name("FILE")
      ->default_str("");
}

void add_recordings_option(CLI::App& command, const std::string& name, std::vector<std::string>& recordings,
                           const std::string& what) {
  command.add_option(name, recordings, what)->type_name("")->default_str("");
}

}  // namespace windway::cli
