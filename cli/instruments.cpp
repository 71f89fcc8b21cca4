// SPDX-License-Identifier: GPL-3.0-or-later
#include "instruments.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <filesystem>

#include "analysis.hpp"
#include "output_file.hpp"
#include "report/layout.hpp"
#include "report/words.hpp"
#include "scale/instrument_file.hpp"
#include "scale/instrument_names.hpp"
#include "terminal.hpp"

namespace windway::cli {
namespace {

constexpr auto examples = R"(Examples:
  windway instruments list                                  the built-in ones
  windway instruments show 'low D whistle'                  what windway takes it for, as a file
  windway instruments write my-flute.toml --from scale.wav  start a file from a take
  windway instruments check my-flute.toml                   is the file sound?

Exit status: 0 done; 2 a mistake in the call or in a file; 3 a recording could not be read or judged;
4 the file could not be written; 130 interrupted.)";

std::string notes_in_words(const Instrument& instrument) {
  std::vector<std::string> names;
  for (const ScaleNote& note : instrument.scale)
    names.push_back(spelt(note.midi, instrument) + (note.fingering.empty() ? "" : ":" + note.fingering));
  return list_in_words(names);
}

std::string list() {
  std::vector<std::vector<std::string>> rows;
  for (const NamedInstrument& each : builtin_instruments()) {
    const Instrument instrument = builtin_instrument(each.kind, each.lowest_midi);
    rows.push_back({each.name, spelt(instrument.lowest_midi, instrument),
                    spelt(instrument.scale.back().midi, instrument), std::to_string(instrument.scale.size())});
  }
  return table({{"name"}, {"from"}, {"to"}, {"notes", true}}, rows) +
         "  sounding pitch; --instrument takes these names, others in use (descant, treble, whistle in D), and files\n";
}

std::string shown(const Instrument& instrument) {
  return wrapped("# A " + kind_name(instrument.kind) + " that gives " + notes_in_words(instrument) + ".", 2) + "\n" +
         instrument_toml(instrument);
}

std::string checked(const std::vector<std::string>& files) {
  std::string text;
  for (const std::string& file : files) {
    const Instrument instrument = read_instrument(file);
    text += file + " is sound: " + instrument.name.value_or(kind_name(instrument.kind)) + " from " +
            spelt(instrument.lowest_midi, instrument) + ", " + count_in_words(instrument.scale.size(), "note") + "\n";
  }
  return text;
}

/// From a built-in name, or as a take tells it.
Instrument begun_from(const InstrumentsCall& call) {
  const InstrumentHint hint = hint_of(call.flute);
  if (call.from.empty()) {
    if (hint.instrument) return spelling_as(hint.note_names, *hint.instrument);
    refuse("write from what? Add --from with a take or a name, as in --from scale.wav or --from 'D whistle'");
  }
  if (const auto named = instrument_called(call.from); named && !std::filesystem::exists(call.from)) {
    return spelling_as(hint.note_names, *named);
  }
  MeasureSettings settings;
  settings.instrument = hint;
  settings.note_names = hint.note_names;
  return measure({call.from}, settings).naming.instrument;
}

std::string written(const InstrumentsCall& call, const std::string& path) {
  if (std::filesystem::exists(path) && !call.replace)
    refuse(path + " is there already; add --replace to write it anew");
  const Instrument instrument = begun_from(call);
  OutputFile(path).finish("# An instrument of windway. Fill in what follows # where you know it.\n" +
                          instrument_toml(instrument));
  return path + " is begun: a " + kind_name(instrument.kind) + " from " + spelt(instrument.lowest_midi, instrument) +
         ". Fill in its name and the travel of its head, then: windway instruments check " + path + "\n";
}

}  // namespace

void add_instruments(CLI::App& app, InstrumentsCall& call) {
  CLI::App& command = *app.add_subcommand("instruments", "list, show, check, write instrument files (TOML)");
  command.group("Commands");
  command.option_defaults()->always_capture_default();
  add_recordings_option(command, "WHAT", call.words, "list, show NAME|FILE, check FILE..., or write FILE");
  command.add_option("--from", call.from, "write: a take, or a name that windway knows")
      ->group("Writing")
      ->type_name("TAKE|NAME");
  command.add_flag("--replace", call.replace, "write: over the file that is there")->group("Writing");
  add_flute_options(command, call.flute);
  command.set_help_flag("--help", "print this and end")->group("Help");
  command.footer(examples);
}

void do_instruments(const InstrumentsCall& call) {
  const std::string action = call.words.empty() ? "list" : call.words.front();
  const std::vector<std::string> named(call.words.begin() + std::min<long>(1, std::ssize(call.words)),
                                       call.words.end());
  if (action == "list" && named.empty()) return print(list());
  if (action == "check" && !named.empty()) return print(checked(named));
  if (action == "show" && named.size() == 1) return print(shown(instrument_from(named.front())));
  if (action == "write" && named.size() == 1) return print(written(call, named.front()));
  refuse("list, show NAME|FILE, check FILE... or write FILE? As in: windway instruments show 'D whistle'");
}

}  // namespace windway::cli
