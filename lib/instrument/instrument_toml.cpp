// SPDX-License-Identifier: GPL-3.0-or-later
#include "instrument/instrument_toml.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

namespace windway {
namespace {

/// A basic string of TOML 1.0.
std::string quoted(const std::string& text) {
  std::string quoted = "\"";
  for (const char letter : text) {
    if (letter == '"' || letter == '\\') quoted += '\\';
    static_cast<unsigned char>(letter) < 0x20 || letter == 0x7F
        ? quoted += fmt::format("\\u{:04X}", static_cast<unsigned>(letter))
        : quoted += letter;
  }
  return quoted + "\"";
}

/// The notes of its kind need not be written out.
bool has_notes_of_its_kind(const Instrument& instrument) {
  std::vector<NoteId> own;
  for (const ScaleNote& note : instrument.scale)
    if (note.id.fingering.empty()) own.push_back(note.id);
  const Instrument builtin = builtin_instrument(instrument.kind, instrument.lowest_midi);
  return std::ranges::equal(own, builtin.scale, {}, {}, &ScaleNote::id);
}

/// An array over several lines, which each begin with `start` and hold so many words.
std::string array_lines(const std::vector<std::string>& words, std::size_t words_a_line, const std::string& start) {
  std::string lines = "[";
  for (std::size_t word = 0; word < words.size(); ++word) {
    lines += word % words_a_line == 0 ? "\n" + start + "  " : " ";
    lines += words[word] + (word + 1 < words.size() ? "," : "");
  }
  return lines + "\n" + start + "]\n";
}

std::string notes_lines(const Instrument& instrument) {
  std::vector<std::string> names;
  for (const ScaleNote& note : instrument.scale)
    if (note.id.fingering.empty()) names.push_back(quoted(spelt(note.id.midi, instrument)));
  const std::string start = has_notes_of_its_kind(instrument) ? "# " : "";
  return "# All its notes, from the lowest up:\n" + start + "notes = " + array_lines(names, 8, start);
}

std::string head_lines(const Instrument& instrument) {
  std::string lines = fmt::format("\n[head]\nmoves = {}\n", instrument.head_moves);
  lines += instrument.travel_mm
               ? fmt::format("travel_mm = {}  # how far it can be drawn out of fully in\n", *instrument.travel_mm)
           : instrument.head_moves ? "# travel_mm = 8  # how far it can be drawn out of fully in: measure it\n"
                                   : "";
  if (const auto& range = instrument.head_out_range_mm)
    lines += fmt::format("out_range_mm = [{}, {}]  # where its best place must be\n", range->min_mm, range->max_mm);
  if (const auto& factor = instrument.slide_factor) {
    lines += fmt::format(
        "slide_factor = {}  # measured over predicted change, from windway compare\n"
        "slide_factor_u95 = {}\n",
        factor->factor, factor->u95);
  }
  return lines;
}

std::string own_cents_lines(const Temperament& temperament) {
  std::vector<std::string> cents;
  for (const double each : temperament.own_cents) cents.push_back(fmt::format("{}", each));
  return array_lines(cents, 6, "");
}

std::string temperament_lines(const Instrument& instrument) {
  if (!instrument.temperament) return "";
  const Temperament& temperament = *instrument.temperament;
  std::string lines = fmt::format("\n[temperament]\nname = \"{}\"\n", temperament_word(temperament.name));
  if (const auto key = temperament.key_pitch_class) {
    const std::string name = note_name(60 + *key, *key, instrument.note_names);
    lines += fmt::format("key = {}\n", quoted(name.substr(0, name.size() - 1)));
  }
  if (temperament.name == TemperamentName::own)
    lines += "# The twelve semitones above the key note:\ncents = " + own_cents_lines(temperament);
  return lines;
}

std::string maker_lines(const Instrument& instrument) {
  if (!instrument.maker) return "";
  const Maker& maker = *instrument.maker;
  std::vector<std::string> address;
  for (const std::string& line : maker.address) address.push_back(quoted(line));
  std::string lines = "\n[maker]\n";
  if (maker.name) lines += fmt::format("name = {}\n", quoted(*maker.name));
  if (!address.empty()) lines += fmt::format("address = [{}]\n", fmt::join(address, ", "));
  if (maker.model) lines += fmt::format("model = {}  # what the buyer's sheet calls it\n", quoted(*maker.model));
  return lines;
}

std::string note_lines(const ScaleNote& note, const Instrument& instrument) {
  const int usual_register = register_of(instrument.kind, note.id.midi - instrument.lowest_midi);
  const ScaleNote* usual = scale_note(instrument, {note.id.midi});
  const bool has_target = note.target_cents != 0.0 || (usual != nullptr && usual->target_cents != 0.0);
  const bool is_plain = note.id.fingering.empty() && note.register_number == usual_register && note.weight == 1.0 &&
                        note.can_check && !has_target && !note.tolerance_cents && !note.max_spread_cents;
  if (is_plain) return "";
  std::string lines = fmt::format("\n[[note]]\nnote = {}\n", quoted(spelt(note.id.midi, instrument)));
  if (!note.id.fingering.empty()) lines += fmt::format("fingering = {}\n", quoted(note.id.fingering));
  lines += fmt::format("register = {}\nweight = {}\ncheck = {}\n", note.register_number, note.weight, note.can_check);
  if (has_target)
    lines += fmt::format("target_cents = {}  # how far off the temperament it should be, + sharp\n", note.target_cents);
  if (note.tolerance_cents) lines += fmt::format("tolerance_cents = {}\n", *note.tolerance_cents);
  if (note.max_spread_cents) lines += fmt::format("max_spread_cents = {}\n", *note.max_spread_cents);
  return lines;
}

std::string figure_line(const char* key, const std::optional<double>& value, double example, const char* what) {
  return value ? fmt::format("{} = {}  # {}\n", key, *value, what)
               : fmt::format("# {} = {}  # {}\n", key, example, what);
}

/// "# Heard: D5, E5. Not heard: C6." in lines of 80 columns at most.
std::string heard_lines(const Instrument& instrument, const std::vector<int>& heard_midi) {
  std::string lines = "#";
  std::size_t width = lines.size();
  const auto add = [&](const std::string& word) {
    if (width + 1 + word.size() > 80) lines += "\n#", width = 1;
    lines += " " + word, width += 1 + word.size();
  };
  for (const bool wanted : {true, false}) {
    std::vector<std::string> names;
    for (const ScaleNote& note : instrument.scale) {
      const bool heard = std::ranges::find(heard_midi, note.id.midi) != heard_midi.end();
      if (note.id.fingering.empty() && heard == wanted) names.push_back(spelt(note.id.midi, instrument));
    }
    if (names.empty()) continue;
    if (wanted) add("Heard:");
    if (!wanted)
      for (const char* word : {"Not", "heard", "(make", "them", "optional,", "or", "leave", "them", "out):"}) add(word);
    for (std::string& name : names) add(name + (&name == &names.back() ? "." : ","));
  }
  return lines + "\n";
}

/// What else a file can say, for the pen.
constexpr auto further_lines = R"(
# A note that is half-holed or seldom used: it does not help to set the head.
# [[note]]
# note = "{0}"
# optional = true

# A note that should be off the temperament, + sharp, with its own limits.
# [[note]]
# note = "{0}"
# target_cents = 5
# tolerance_cents = 12
# max_spread_cents = 60

# A further fingering, under a name of your own; in --order it is {0}:vented.
# [[note]]
# note = "{0}"
# fingering = "vented"
# register = 2

# A temperament: just, pythagorean, meantone, or own with its twelve cents.
# [temperament]
# name = "just"
# key = "{1}"

# Who makes it, for the sheet that its buyer gets: windway sheet.
# [maker]
# name = "..."
# address = ["street", "town"]
# model = "..."
)";

}  // namespace

std::string begun_instrument_toml(const Instrument& instrument, const std::vector<int>& heard_midi) {
  const std::string example = spelt(instrument.scale.back().id.midi, instrument);
  const std::string key = spelt(instrument.lowest_midi, instrument);
  return "# An instrument of windway. Where you know a value, write it and remove the #.\n" +
         (heard_midi.empty() ? "" : heard_lines(instrument, heard_midi)) + instrument_toml(instrument) +
         fmt::format(further_lines, example, key.substr(0, key.size() - 1));
}

std::string instrument_toml(const Instrument& instrument) {
  std::string text = !instrument.name.value_or("").empty() ? fmt::format("name = {}\n", quoted(*instrument.name))
                                                           : "# name = \"...\"\n";
  text += fmt::format("kind = \"{}\"\nlowest = {}  # as it sounds\n", kind_name(instrument.kind),
                      quoted(spelt(instrument.lowest_midi, instrument)));
  if (instrument.note_names == NoteNames::german) text += "note_names = \"german\"\n";
  text += notes_lines(instrument);
  text += figure_line("a4_hz", instrument.a4_hz, 440, "the reference pitch it is made for");
  text += figure_line("quote_at_c", instrument.quote_at_c, 25, "bore temperature that its notes are given for");
  const double stretch = instrument.stretch_cents_per_octave;
  text += figure_line("stretch_cents_per_octave", stretch != 0.0 ? std::optional(stretch) : std::nullopt, 4,
                      "by how many cents octaves should be wide");
  text += figure_line("tolerance_cents", instrument.tolerance_cents, 10,
                      "how far off a note may be at the head's best place");
  text += figure_line("max_spread_cents", instrument.max_spread_cents, 45, "how far a note may rise from soft to hard");
  text +=
      figure_line("max_octave_cents", instrument.max_octave_cents, 15, "how wide or narrow octaves may be on average");
  text += head_lines(instrument) + temperament_lines(instrument) + maker_lines(instrument);
  for (const ScaleNote& note : instrument.scale) text += note_lines(note, instrument);
  return text;
}

}  // namespace windway
