// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <algorithm>

#include "scale/instrument_file.hpp"

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
  std::vector<int> own;
  for (const ScaleNote& note : instrument.scale)
    if (note.fingering.empty()) own.push_back(note.midi);
  const Instrument builtin = builtin_instrument(instrument.kind, instrument.lowest_midi);
  return std::ranges::equal(own, builtin.scale, {}, {}, &ScaleNote::midi);
}

std::string notes_line(const Instrument& instrument) {
  std::string list;
  for (const ScaleNote& note : instrument.scale)
    if (note.fingering.empty()) list += (list.empty() ? "" : ", ") + quoted(spelt(note.midi, instrument));
  return fmt::format("{}notes = [{}]  # all its fingering gives, from the lowest up\n",
                     has_notes_of_its_kind(instrument) ? "# " : "", list);
}

std::string head_lines(const Instrument& instrument) {
  std::string lines = fmt::format("\n[head]\nmoves = {}\n", instrument.head_moves);
  lines += instrument.travel_mm
               ? fmt::format("travel_mm = {}  # how far it can be drawn out of fully in\n", *instrument.travel_mm)
           : instrument.head_moves ? "# travel_mm = 8  # how far it can be drawn out of fully in: measure it\n"
                                   : "";
  if (const auto& factor = instrument.slide_factor) {
    lines += fmt::format(
        "slide_factor = {}  # its change over the law's, as windway compare measured it\n"
        "slide_factor_u95 = {}\n",
        factor->factor, factor->u95);
  }
  return lines;
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
    lines += fmt::format("cents = [{}]  # of the twelve semitones above the key note\n",
                         fmt::join(temperament.own_cents, ", "));
  return lines;
}

std::string note_lines(const ScaleNote& note, const Instrument& instrument) {
  const int usual_register = register_of(instrument.kind, note.midi - instrument.lowest_midi);
  const bool is_plain = note.fingering.empty() && note.register_number == usual_register && note.weight == 1.0 &&
                        note.can_check && !note.tolerance_cents;
  if (is_plain) return "";
  std::string lines = fmt::format("\n[[note]]\nnote = {}\n", quoted(spelt(note.midi, instrument)));
  if (!note.fingering.empty()) lines += fmt::format("fingering = {}\n", quoted(note.fingering));
  lines += fmt::format("register = {}\nweight = {}\ncheck = {}\n", note.register_number, note.weight, note.can_check);
  if (note.tolerance_cents) lines += fmt::format("tolerance_cents = {}\n", *note.tolerance_cents);
  return lines;
}

std::string figure_line(const char* key, const std::optional<double>& value, double example, const char* what) {
  return value ? fmt::format("{} = {}  # {}\n", key, *value, what)
               : fmt::format("# {} = {}  # {}\n", key, example, what);
}

}  // namespace

std::string instrument_toml(const Instrument& instrument) {
  std::string text = instrument.name ? fmt::format("name = {}\n", quoted(*instrument.name)) : "# name = \"...\"\n";
  text += fmt::format("kind = \"{}\"\nlowest = {}  # as it sounds\n", kind_name(instrument.kind),
                      quoted(spelt(instrument.lowest_midi, instrument)));
  if (instrument.note_names == NoteNames::german) text += "note_names = \"german\"\n";
  text += notes_line(instrument);
  text += figure_line("a4_hz", instrument.a4_hz, 440, "the reference pitch it is made for");
  text +=
      figure_line("tolerance_cents", instrument.tolerance_cents, 10, "of a note, once the head is where it does best");
  text += figure_line("max_spread_cents", instrument.max_spread_cents, 45, "from soft to hard, of any note");
  text += head_lines(instrument) + temperament_lines(instrument);
  for (const ScaleNote& note : instrument.scale) text += note_lines(note, instrument);
  return text;
}

}  // namespace windway
