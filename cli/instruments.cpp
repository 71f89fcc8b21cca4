// SPDX-License-Identifier: GPL-3.0-or-later
#include "instruments.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <filesystem>
#include <memory>
#include <sstream>

#include "begin.hpp"
#include "exit_status.hpp"
#include "help.hpp"
#include "instrument/instrument_file.hpp"
#include "instrument/instrument_names.hpp"
#include "instrument/instrument_toml.hpp"
#include "options.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/layout.hpp"
#include "report/wording/words.hpp"
#include "results/output_file.hpp"
#include "shared_settings.hpp"
#include "terminal.hpp"

namespace windway::cli {
namespace {

/// `windway instruments` as it was called.
struct InstrumentsCall {
  std::vector<std::string> words;  ///< what to do, then names or files
  std::string from;                ///< write: a take or a built-in name
  bool replace = false;
  FluteOptions flute;
};

constexpr auto instruments_examples = R"(Examples:
  windway instruments list                  the built-in ones
  windway instruments show 'low D whistle'  one of them, as a file
  windway instruments write my-flute.toml --from scale.wav
                                            start a file from a take
  windway instruments check my-flute.toml   find mistakes in a file

Exit status: 0 done; 2 a mistake in the call or in a file; 3 a recording could
not be read or judged; 4 the file could not be written; 130 interrupted.)";

std::string notes_in_words(const Instrument& instrument) {
  std::vector<std::string> names;
  for (const ScaleNote& note : instrument.scale)
    names.push_back(with_fingering(spelt(note.id.midi, instrument), note.id, ":"));
  return list_in_words(names);
}

std::string list() {
  std::vector<std::vector<std::string>> rows;
  for (const NamedInstrument& each : builtin_instruments()) {
    const Instrument instrument = builtin_instrument(each.kind, each.lowest_midi);
    rows.push_back({each.name, spelt(instrument.lowest_midi, instrument),
                    spelt(instrument.scale.back().id.midi, instrument), std::to_string(instrument.scale.size())});
  }
  const std::size_t columns = columns_of_output();
  return table({{"name"}, {"from"}, {"to"}, {"notes", true}}, rows, columns) +
         wrapped(
             "  notes as they sound; --instrument also takes other usual names (descant, treble, whistle in D) and "
             "files",
             2, columns);
}

/// A sentence as comments of the file below it.
std::string commented(const std::string& sentence) {
  std::istringstream lines(wrapped(sentence, 2, text_columns - 2));
  std::string comments;
  for (std::string line; std::getline(lines, line);) comments += "# " + line + "\n";
  return comments;
}

std::string shown(const Instrument& instrument) {
  std::string sentence = "A " + kind_name(instrument.kind) + " with the notes " + notes_in_words(instrument) + ".";
  if (!instrument.head_moves) sentence += " Its head does not move.";
  if (instrument.travel_mm) sentence += " Its head can be drawn out " + shortest(*instrument.travel_mm) + " mm.";
  return commented(sentence) + "\n" + instrument_toml(instrument);
}

/// What is sound on standard output; every mistake in the files on a line of its own on standard error.
void check_files(const std::vector<std::string>& files) {
  std::size_t mistakes = 0;
  for (const std::string& file : files) {
    const std::vector<std::string> found = mistakes_in_instrument(file);
    mistakes += found.size();
    for (const std::string& mistake : found) complain(mistake);
    if (!found.empty()) continue;
    const Instrument instrument = read_instrument(file);
    print(wrapped(file + " has no mistakes: " + instrument.name.value_or(kind_name(instrument.kind)) + " from " +
                      spelt(instrument.lowest_midi, instrument) + ", " +
                      count_in_words(instrument.scale.size(), "note"),
                  2, columns_of_output()));
  }
  if (mistakes > 0) refuse(count_in_words(mistakes, "mistake") + " in all; the lines above say what to write instead");
}

/// An instrument to begin a file with, and which notes of it a take has.
struct Begun {
  Instrument instrument;
  std::vector<int> heard_midi;
};

/// From a name or file, or as a take tells it.
Begun begun_from(const InstrumentsCall& call) {
  const InstrumentHint hint = hint_of(call.flute);
  if (call.from.empty()) {
    if (hint.instrument) return {spelling_as(hint.note_names, *hint.instrument), {}};
    refuse("write from what? Add --from with a take or a name, as in --from scale.wav or --from 'D whistle'");
  }
  if (call.from.ends_with(".toml")) return {read_instrument(call.from), {}};
  if (!std::filesystem::exists(call.from)) {
    if (const auto named = instrument_called(call.from)) return {spelling_as(hint.note_names, *named), {}};
    refuse("--from: no take and no instrument is called '" + call.from + "'; " + remedy_for_name(call.from));
  }
  const Measurement measurement =
      measured_or_saved(call.from, TakeOptions{{}, call.flute, {}, {}}, settings_of({{}, call.flute, {}, {}}));
  Begun begun{spelling_as(hint.note_names, measurement.naming.instrument), {}};
  for (const NoteBreath& note : measurement.breath.notes) begun.heard_midi.push_back(note.id.midi);
  return begun;
}

std::string written(const InstrumentsCall& call, const std::string& path) {
  if (std::filesystem::exists(path) && !call.replace) refuse(path + " is there already; add --replace to overwrite it");
  const auto [instrument, heard_midi] = begun_from(call);
  OutputFile(path).finish(begun_instrument_toml(instrument, heard_midi));
  return wrapped(
      path + " is started: a " + kind_name(instrument.kind) + " from " + spelt(instrument.lowest_midi, instrument) +
          ". Fill in its name and the travel of its head, then run: windway instruments check " + shell_word(path),
      0, columns_of_output());
}

void do_instruments(const InstrumentsCall& call) {
  const std::string action = call.words.empty() ? "list" : call.words.front();
  const std::vector<std::string> named(call.words.begin() + std::min<long>(1, std::ssize(call.words)),
                                       call.words.end());
  if (action != "write" && (!call.from.empty() || call.replace))
    refuse("--from and --replace belong to write, as in: windway instruments write mine.toml --from scale.wav");
  if (action == "list" && named.empty()) return print(list());
  if (action == "check" && !named.empty()) return check_files(named);
  if (action == "show" && named.size() == 1) return print(shown(instrument_from(named.front())));
  if (action == "write" && named.size() == 1) return print(written(call, named.front()));
  refuse("list, show NAME|FILE, check FILE... or write FILE? As in: windway instruments show 'D whistle'");
}

}  // namespace

Action declare_instruments(CLI::App& command) {
  const auto call = std::make_shared<InstrumentsCall>();
  add_recordings_option(command, "WHAT", call->words, "list, show NAME|FILE, check FILE..., or write FILE");
  command
      .add_option("--from", call->from, "for write: a take, a saved result, a name that windway\nknows or another file")
      ->group("Writing")
      ->type_name("TAKE|NAME");
  command.add_flag("--replace", call->replace, "for write: overwrite the file if it is there")->group("Writing");
  add_flute_options(command, call->flute);
  add_help_option(command);
  command.footer(instruments_examples);
  return [call] { return do_instruments(*call), exit_measured; };
}

}  // namespace windway::cli
