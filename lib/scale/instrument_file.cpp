// SPDX-License-Identifier: GPL-3.0-or-later
#include "scale/instrument_file.hpp"

#include <algorithm>
#include <fstream>
#include <iterator>

#include "error.hpp"
#include "scale/toml_table.hpp"

namespace windway {
namespace {

NoteNames note_names_of(const TomlTable& file) {
  const std::string names = file.text("note_names").value_or("english");
  if (names != "english" && names != "german") file.refuse("note_names", "is \"english\" (B, Bb) or \"german\" (H, B)");
  return names == "german" ? NoteNames::german : NoteNames::english;
}

Kind kind_of(const TomlTable& file) {
  const std::string kind = file.text("kind").value_or("");
  if (kind.empty()) file.refuse("kind", "is missing: write kind = \"whistle\" or kind = \"recorder\"");
  if (kind != "whistle" && kind != "recorder") file.refuse("kind", "is \"whistle\" or \"recorder\"");
  return kind == "recorder" ? Kind::recorder : Kind::whistle;
}

/// A sounding note with its octave.
int midi_at(const TomlTable& table, const std::string& key, const std::string& note, NoteNames names) {
  try {
    const WrittenNote written = parse_note(note, names);
    if (written.octave) return midi_of(written);
  } catch (const Error& mistake) {
    table.refuse(key, mistake.what());
  }
  table.refuse(key, "\"" + note + "\" lacks its octave; write the note as it sounds, as in \"D5\"");
}

void set_notes(Instrument& instrument, const TomlTable& file) {
  const auto notes = file.texts("notes");
  if (!notes) return;
  instrument.scale.clear();
  for (const std::string& note : *notes) {
    const int midi = midi_at(file, "notes", note, instrument.note_names);
    if (midi < instrument.lowest_midi) file.refuse("notes", note + " is below the lowest note");
    if (!instrument.scale.empty() && midi <= instrument.scale.back().midi) {
      file.refuse("notes", note + " is out of order; they stand from the lowest up, each once");
    }
    instrument.scale.push_back(
        {.midi = midi, .register_number = register_of(instrument.kind, midi - instrument.lowest_midi)});
  }
  if (instrument.scale.empty()) file.refuse("notes", "names none; leave the line out for the notes of its kind");
}

/// What a [[note]] says of the note, or of a further fingering of it.
void set_note(Instrument& instrument, const TomlTable& entry) {
  entry.allow_only({"note", "fingering", "register", "weight", "optional", "check", "tolerance_cents"});
  const auto name = entry.text("note");
  if (!name) entry.refuse("note", "is missing: which note? As in note = \"C6\"");
  const int midi = midi_at(entry, "note", *name, instrument.note_names);
  auto place = std::ranges::find(instrument.scale, midi, &ScaleNote::midi);
  if (place == instrument.scale.end()) entry.refuse("note", *name + " is not one of the instrument's notes");
  const std::string fingering = entry.text("fingering").value_or("");
  if (!fingering.empty()) {
    if (fingering.find_first_of(" ,:") != std::string::npos) {
      entry.refuse("fingering", "is one word without blanks, commas or colons, as in \"vented\"");
    }
    if (fingering_number(instrument, midi, fingering)) entry.refuse("fingering", "stands twice for " + *name);
    ScaleNote further = *place;
    further.fingering = fingering;
    while (place != instrument.scale.end() && place->midi == midi) ++place;
    place = instrument.scale.insert(place, further);
  }
  place->register_number = entry.whole_number("register", 1, 4).value_or(place->register_number);
  const bool is_optional = entry.yes_or_no("optional").value_or(false);
  place->weight = entry.number("weight", 0, 1000, "").value_or(is_optional ? 0.0 : place->weight);
  place->can_check = entry.yes_or_no("check").value_or(!is_optional && place->can_check);
  place->tolerance_cents = entry.number("tolerance_cents", 0.1, 200, " cents");
}

void set_head(Instrument& instrument, const TomlTable& head) {
  head.allow_only({"moves", "travel_mm", "slide_factor", "slide_factor_u95"});
  instrument.head_moves = head.yes_or_no("moves").value_or(true);
  instrument.travel_mm = head.number("travel_mm", 0.1, 100, " mm");
  const auto factor = head.number("slide_factor", 0.5, 2, " (1: as the law of the slide says)");
  const auto u95 = head.number("slide_factor_u95", 0, 1, "");
  if (!instrument.head_moves && instrument.travel_mm) head.refuse("travel_mm", "a head that does not move has none");
  if (u95 && !factor) head.refuse("slide_factor_u95", "is the uncertainty of slide_factor, which is missing");
  if (factor) instrument.slide_factor = SlideFactor{*factor, u95.value_or(0.05)};
}

Temperament temperament_of(const TomlTable& table, NoteNames names) {
  table.allow_only({"name", "key", "cents"});
  const std::string name = table.text("name").value_or("");
  const auto known = temperament_called(name);
  if (!known) table.refuse("name", "is \"equal\", \"just\", \"pythagorean\", \"meantone\" or \"own\"");
  Temperament temperament{*known, {}, {}};
  if (const auto key = table.text("key")) {
    try {
      temperament.key_pitch_class = parse_note(*key, names).pitch_class;
    } catch (const Error& mistake) {
      table.refuse("key", mistake.what());
    }
  }
  const auto cents = table.numbers("cents");
  const bool is_own = *known == TemperamentName::own;
  if (is_own != cents.has_value()) table.refuse("cents", "belongs to name = \"own\", and to no other");
  if (!cents) return temperament;
  if (cents->size() != 12 || cents->front() != 0 || !std::ranges::is_sorted(*cents) || cents->back() >= 1200) {
    table.refuse("cents", "are the twelve semitones above the key note, rising from 0 to less than 1200");
  }
  std::ranges::copy(*cents, temperament.own_cents.begin());
  return temperament;
}

}  // namespace

Instrument instrument_from_toml(const std::string& text, const std::string& name) {
  const TomlTable file = TomlTable::parsed(text, name);
  file.allow_only({"name", "kind", "lowest", "notes", "note_names", "a4_hz", "tolerance_cents", "max_spread_cents",
                   "head", "temperament", "note"});
  const NoteNames names = note_names_of(file);
  const Kind kind = kind_of(file);
  const auto lowest = file.text("lowest");
  if (!lowest) file.refuse("lowest", "is missing: its lowest note as it sounds, as in lowest = \"D5\"");
  Instrument instrument = spelling_as(names, builtin_instrument(kind, midi_at(file, "lowest", *lowest, names)));
  instrument.name = file.text("name");
  instrument.a4_hz = file.number("a4_hz", 300, 600, " Hz");
  instrument.tolerance_cents = file.number("tolerance_cents", 0.1, 200, " cents");
  instrument.max_spread_cents = file.number("max_spread_cents", 0.1, 400, " cents");
  set_notes(instrument, file);
  if (const auto head = file.table("head")) set_head(instrument, *head);
  if (const auto table = file.table("temperament")) instrument.temperament = temperament_of(*table, names);
  for (const TomlTable& entry : file.tables("note")) set_note(instrument, entry);
  return instrument;
}

Instrument read_instrument(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  const std::string text{std::istreambuf_iterator<char>(file), {}};
  if (!file) throw Error(ErrorKind::usage, "cannot read the instrument file " + path + ": see its name and its rights");
  return instrument_from_toml(text, path);
}

}  // namespace windway
