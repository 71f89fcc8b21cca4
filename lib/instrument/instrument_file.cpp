// SPDX-License-Identifier: GPL-3.0-or-later
#include "instrument/instrument_file.hpp"

#include <algorithm>
#include <set>
#include <utility>

#include "error.hpp"
#include "input/text_file.hpp"
#include "instrument/toml_table.hpp"

namespace windway {
namespace {

NoteNames note_names_of(const TomlTable& file) {
  const std::string names = file.text("note_names").value_or("english");
  if (names != "english" && names != "german")
    file.refuse("note_names", "must be \"english\" (B, Bb) or \"german\" (H, B)");
  return names == "german" ? NoteNames::german : NoteNames::english;
}

Kind kind_of(const TomlTable& file) {
  const std::string kind = file.text("kind").value_or("");
  if (kind.empty()) file.refuse("kind", "is missing: write kind = \"whistle\" or kind = \"recorder\"");
  if (kind != "whistle" && kind != "recorder") file.refuse("kind", "must be \"whistle\" or \"recorder\"");
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
  table.refuse(key, "\"" + note + "\" has no octave; write the note as it sounds, as in \"D5\"");
}

void set_notes(Instrument& instrument, const TomlTable& file, TomlMistakes& mistakes) {
  const auto notes = file.texts("notes");
  if (!notes) return;
  if (notes->empty()) file.refuse("notes", "has no notes; leave the line out for the usual notes of its kind");
  instrument.scale.clear();
  const auto add = [&](const std::string& note) {
    const int midi = midi_at(file, "notes", note, instrument.note_names);
    if (midi < instrument.lowest_midi) file.refuse("notes", note + " is below the lowest note");
    if (scale_note(instrument, {midi}))
      file.refuse("notes", note + " is there twice; give a further fingering a [[note]] of its own, with its name");
    const bool is_out_of_order = !instrument.scale.empty() && midi < instrument.scale.back().id.midi;
    instrument.scale.push_back(
        {.id = {midi}, .register_number = register_of(instrument.kind, midi - instrument.lowest_midi)});
    if (is_out_of_order) file.refuse("notes", note + " is out of order; write the notes from the lowest up");
  };
  for (const std::string& note : *notes) mistakes.none_in([&] { add(note); });
}

/// The name of a further fingering; empty: the usual one.
std::string fingering_in(const TomlTable& entry) {
  std::string fingering = entry.text("fingering").value_or("");
  if (fingering.find_first_of(" ,:\t\n") != std::string::npos)
    entry.refuse("fingering", "must be one word without blanks, commas or colons, as in \"vented\"");
  return fingering;
}

/// The note that a [[note]] is about; a further fingering of it is put after those it has.
ScaleNote& note_of(Instrument& instrument, const TomlTable& entry) {
  const auto name = entry.text("note");
  if (!name) entry.refuse("note", "is missing: which note? As in note = \"C6\"");
  const int midi = midi_at(entry, "note", *name, instrument.note_names);
  auto place = std::ranges::find(instrument.scale, NoteId{midi}, &ScaleNote::id);
  if (place == instrument.scale.end()) entry.refuse("note", *name + " is not one of the instrument's notes");
  const std::string fingering = fingering_in(entry);
  if (fingering.empty()) return *place;
  ScaleNote further = *place;
  further.id.fingering = fingering;
  while (place != instrument.scale.end() && place->id.midi == midi) ++place;
  return *instrument.scale.insert(place, further);
}

/// What a [[note]] says of the note, or of a further fingering of it. `seen`: those before it.
void set_note(Instrument& instrument, const TomlTable& entry, std::set<NoteId>& seen, TomlMistakes& mistakes) {
  entry.allow_only({"note", "fingering", "register", "weight", "optional", "check", "target_cents", "tolerance_cents",
                    "max_spread_cents"},
                   mistakes);
  ScaleNote& note = note_of(instrument, entry);
  if (!seen.insert(note.id).second)
    entry.refuse("note", *entry.text("note") +
                             " is there twice; put both into one [[note]], or name the further "
                             "fingering, as in fingering = \"vented\"");
  bool is_optional = false;
  mistakes.none_in([&] { note.register_number = entry.whole_number("register", 1, 4).value_or(note.register_number); });
  mistakes.none_in([&] { is_optional = entry.yes_or_no("optional").value_or(false); });
  mistakes.none_in(
      [&] { note.weight = entry.number("weight", 0, 1000, "").value_or(is_optional ? 0.0 : note.weight); });
  mistakes.none_in([&] { note.can_check = entry.yes_or_no("check").value_or(!is_optional && note.can_check); });
  mistakes.none_in(
      [&] { note.target_cents = entry.number("target_cents", -100, 100, " cents").value_or(note.target_cents); });
  mistakes.none_in([&] { note.tolerance_cents = entry.number("tolerance_cents", 0.1, 200, " cents"); });
  mistakes.none_in([&] { note.max_spread_cents = entry.number("max_spread_cents", 0.1, 400, " cents"); });
}

std::optional<HeadRange> head_range_of(const TomlTable& head, const std::optional<double>& travel_mm) {
  const auto range = head.numbers("out_range_mm");
  if (!range) return std::nullopt;
  if (range->size() != 2 || range->front() < 0 || range->front() > range->back() || range->back() > 100)
    head.refuse("out_range_mm",
                "must be the least and the most that the head may be out, from 0 to 100 mm, as in [1, 5]");
  if (travel_mm && range->back() > *travel_mm) head.refuse("out_range_mm", "goes beyond travel_mm");
  return HeadRange{range->front(), range->back()};
}

std::optional<SlideFactor> slide_factor_of(const TomlTable& head) {
  const auto factor = head.number("slide_factor", 0.5, 2, " (1: as the law of the slide says)");
  const auto u95 = head.number("slide_factor_u95", 0, 1, "");
  if (u95 && !factor) head.refuse("slide_factor_u95", "needs slide_factor, which is missing");
  if (!factor) return std::nullopt;
  return SlideFactor{*factor, u95.value_or(0.05)};
}

void set_head(Instrument& instrument, const TomlTable& head, TomlMistakes& mistakes) {
  head.allow_only({"moves", "travel_mm", "out_range_mm", "slide_factor", "slide_factor_u95"}, mistakes);
  mistakes.none_in([&] { instrument.head_moves = head.yes_or_no("moves").value_or(true); });
  mistakes.none_in([&] { instrument.travel_mm = head.number("travel_mm", 0.1, 100, " mm"); });
  mistakes.none_in([&] { instrument.head_out_range_mm = head_range_of(head, instrument.travel_mm); });
  mistakes.none_in([&] { instrument.slide_factor = slide_factor_of(head); });
  for (const char* key : {"travel_mm", "out_range_mm"}) {
    if (instrument.head_moves || !head.has(key)) continue;
    mistakes.none_in(
        [&] { head.refuse(key, "a head that does not move has none; leave it out, or write moves = true"); });
  }
}

Temperament temperament_of(const TomlTable& table, NoteNames names, TomlMistakes& mistakes) {
  table.allow_only({"name", "key", "cents"}, mistakes);
  const std::string name = table.text("name").value_or("");
  const auto known = temperament_called(name);
  if (!known) table.refuse("name", "must be \"equal\", \"just\", \"pythagorean\", \"meantone\" or \"own\"");
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
  if (is_own != cents.has_value()) table.refuse("cents", "must be there with name = \"own\", and with no other");
  if (!cents) return temperament;
  if (cents->size() != 12 || cents->front() != 0 || !std::ranges::is_sorted(*cents) || cents->back() >= 1200) {
    table.refuse("cents", "must be the twelve semitones above the key note, rising from 0 to less than 1200");
  }
  std::ranges::copy(*cents, temperament.own_cents.begin());
  return temperament;
}

Maker maker_of(const TomlTable& table, TomlMistakes& mistakes) {
  table.allow_only({"name", "address", "model"}, mistakes);
  Maker maker;
  mistakes.none_in([&] { maker.name = table.text("name"); });
  mistakes.none_in([&] { maker.address = table.lines("address").value_or(std::vector<std::string>{}); });
  mistakes.none_in([&] { maker.model = table.text("model"); });
  return maker;
}

/// What needs neither the kind nor the lowest note.
void set_figures(Instrument& instrument, const TomlTable& file, TomlMistakes& mistakes) {
  mistakes.none_in([&] { instrument.name = file.text("name"); });
  mistakes.none_in([&] { instrument.a4_hz = file.number("a4_hz", 300, 600, " Hz"); });
  mistakes.none_in([&] { instrument.quote_at_c = file.number("quote_at_c", 0, 45, " degrees C"); });
  mistakes.none_in([&] {
    instrument.stretch_cents_per_octave = file.number("stretch_cents_per_octave", -20, 20, " cents").value_or(0.0);
  });
  mistakes.none_in([&] { instrument.tolerance_cents = file.number("tolerance_cents", 0.1, 200, " cents"); });
  mistakes.none_in([&] { instrument.max_spread_cents = file.number("max_spread_cents", 0.1, 400, " cents"); });
  mistakes.none_in([&] { instrument.max_octave_cents = file.number("max_octave_cents", 0.1, 200, " cents"); });
  mistakes.none_in([&] {
    if (const auto head = file.table("head")) set_head(instrument, *head, mistakes);
  });
  mistakes.none_in([&] {
    const auto table = file.table("temperament");
    if (table) instrument.temperament = temperament_of(*table, instrument.note_names, mistakes);
  });
  mistakes.none_in([&] {
    const auto table = file.table("maker");
    if (const Maker maker = table ? maker_of(*table, mistakes) : Maker{}; maker != Maker{}) instrument.maker = maker;
  });
}

/// The instrument on its lowest note, with the notes of its kind.
Instrument begun(const TomlTable& file, TomlMistakes& mistakes) {
  NoteNames names = NoteNames::english;
  Kind kind = Kind::whistle;
  int lowest_midi = 74;  // stands in for a mistaken one, so that the rest can be read
  mistakes.none_in([&] { names = note_names_of(file); });
  mistakes.none_in([&] { kind = kind_of(file); });
  mistakes.none_in([&] {
    const auto lowest = file.text("lowest");
    if (!lowest) file.refuse("lowest", "is missing: its lowest note as it sounds, as in lowest = \"D5\"");
    lowest_midi = midi_at(file, "lowest", *lowest, names);
  });
  return spelling_as(names, builtin_instrument(kind, lowest_midi));
}

/// Reads what can be read; the rest are mistakes.
Instrument read(const std::string& text, const std::string& name, TomlMistakes& mistakes) {
  std::optional<TomlTable> file;
  if (!mistakes.none_in([&] { file = TomlTable::parsed(text, name); })) return {};
  Instrument instrument = begun(*file, mistakes);
  const bool has_begun = mistakes.messages().empty();  // else its notes would be mistaken only as what they are not
  file->allow_only({"name", "kind", "lowest", "notes", "note_names", "a4_hz", "quote_at_c", "stretch_cents_per_octave",
                    "tolerance_cents", "max_spread_cents", "max_octave_cents", "head", "temperament", "maker", "note"},
                   mistakes);
  set_figures(instrument, *file, mistakes);
  if (!has_begun || !mistakes.none_in([&] { set_notes(instrument, *file, mistakes); })) return instrument;
  std::set<NoteId> seen;
  mistakes.none_in([&] {
    for (const TomlTable& entry : file->tables("note"))
      mistakes.none_in([&] { set_note(instrument, entry, seen, mistakes); });
  });
  return instrument;
}

std::string text_of(const std::string& path) {
  constexpr std::size_t most_bytes = std::size_t{1} << 20U;
  return text_file(path, "the instrument file", most_bytes);
}

}  // namespace

Instrument instrument_from_toml(const std::string& text, const std::string& name) {
  TomlMistakes mistakes;
  Instrument instrument = read(text, name, mistakes);
  mistakes.throw_any();
  return instrument;
}

Instrument read_instrument(const std::string& path) { return instrument_from_toml(text_of(path), path); }

std::vector<std::string> mistakes_in_instrument(const std::string& path) {
  TomlMistakes mistakes;
  read(text_of(path), path, mistakes);
  return mistakes.messages();
}

}  // namespace windway
