// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/measurement/saved.hpp"

#include <algorithm>
#include <cmath>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <type_traits>
#include <utility>

#include "report/measurement/measurement_fields.hpp"
#include "report/measurement/note_fields.hpp"
#include "report/wording/fields.hpp"
#include "slide/effort.hpp"

namespace windway {
namespace {

using Json = nlohmann::json;

constexpr auto schema = "windway.measurement.v1";

[[noreturn]] void refuse(const std::string& name, const std::string& why) {
  throw Error(ErrorKind::recording, "cannot read " + name + ": it is not a saved result of windway measure (" + why +
                                        "); save one with: windway measure TAKE --format json --output FILE");
}

/// Null where the key is missing or null.
const Json& at(const Json& object, const char* key) {
  static const Json nothing = nullptr;
  const auto found = object.is_object() ? object.find(key) : object.end();
  return found == object.end() ? nothing : *found;
}

template <typename Choice>
requires std::is_enum_v<Choice>
void read(const Json& json, Choice& choice) {
  choice = choice_called<Choice>(json.get<std::string>()).value_or(choice);
}

template <typename Choice>
requires std::is_enum_v<Choice>
void read(const Json& json, std::optional<Choice>& choice) { choice = choice_called<Choice>(json.get<std::string>()); }

void read(const Json& json, double& value) { value = json.get<double>(); }
void read(const Json& json, int& value) { value = static_cast<int>(json.get<double>()); }
void read(const Json& json, bool& value) { value = json.is_boolean() ? json.get<bool>() : value; }
void read(const Json& json, std::string& value) { value = json.get<std::string>(); }
void read(const Json& json, std::optional<double>& value) { value = json.get<double>(); }
void read(const Json& json, std::optional<std::string>& value) { value = json.get<std::string>(); }
void read(const Json& json, InPercent<double> value) { value.share = json.get<double>() / 100.0; }

/// Reads each field that it visits from an object; what is missing or null keeps its default. Throws Json::exception
/// where a value is of another type, or one that must be there is not.
struct FieldReader {
  const Json& object;

  template <typename Value>
  void operator()(const Field& field, Value&& value) const {
    const Json& found = field.must_be_there ? object.at(field.key) : at(object, field.key);
    if (field.must_be_there || !found.is_null()) read(found, value);
  }
  template <typename Pair>
  void operator()(const Field& field, const Field& u95_field, Pair& pair) const {
    auto& [value, u95] = pair;
    (*this)(field, value);
    (*this)(u95_field, u95);
  }
  template <typename Pair>
  void operator()(const Field& field, const Field& u95_field, std::optional<Pair>& pair) const {
    if (at(object, field.key).is_null()) return;
    auto& [value, u95] = pair.emplace();
    u95 = 0.0;
    (*this)(field, value);
    (*this)(u95_field, u95);
  }
};

std::optional<std::string> text(const Json& object, const char* key) {
  std::optional<std::string> value;
  FieldReader{object}({.key = key}, value);
  return value;
}

int midi_called(const std::string& note) { return midi_of(parse_note(note, NoteNames::english)); }

TakeInfo take_from(const Json& json) {
  TakeInfo take;
  visit_take(take, FieldReader{json});
  return take;
}

Temperament temperament_from(const Json& json) {
  Temperament temperament;
  temperament.name = temperament_called(text(json, "name").value_or("equal")).value_or(TemperamentName::equal);
  if (const auto key = text(json, "key"))
    temperament.key_pitch_class = parse_note(*key, NoteNames::english).pitch_class;
  const Json& cents = at(json, "cents");
  if (cents.is_array() && cents.size() == temperament.own_cents.size())
    std::ranges::transform(cents, temperament.own_cents.begin(), [](const Json& each) { return each.get<double>(); });
  return temperament;
}

/// A note as it was saved.
struct SavedNote {
  NoteBreath read;
  MovedNote moved;
};

SavedNote saved_note(const Json& json) {
  SavedNote note;
  NoteWords words;
  visit_note(note.read, words, FieldReader{json});
  note.read.id.fingering = words.fingering.value_or("");
  note.moved.reach_soft_cents = note.read.reach_soft_cents.value_or(least_reach_cents);
  note.moved.reach_hard_cents = note.read.reach_hard_cents.value_or(least_reach_cents);
  visit_air_column(note.moved, FieldReader{json});
  if (const Json& moved = at(json, "moved"); !moved.is_null()) visit_moved(note.moved, FieldReader{moved});
  return note;
}

/// Registers by the rule of its kind, then as the notes that were played say.
Instrument instrument_from(const Json& json, const std::vector<SavedNote>& notes) {
  Instrument instrument;
  instrument.name = text(json, "name");
  instrument.kind = text(json, "kind") == "recorder" ? Kind::recorder : Kind::whistle;
  instrument.lowest_midi = midi_called(json.at("lowest").get<std::string>());
  for (const Json& note : json.at("scale")) {
    const int midi = midi_called(note.get<std::string>());
    const int register_number = register_of(instrument.kind, midi - instrument.lowest_midi);
    if (!scale_note(instrument, {midi})) instrument.scale.push_back({.id = {midi}, .register_number = register_number});
  }
  for (const SavedNote& note : notes) {
    const auto usual = std::ranges::find(instrument.scale, NoteId{note.read.id.midi}, &ScaleNote::id);
    if (usual == instrument.scale.end()) continue;
    ScaleNote played = *usual;
    played.register_number = note.read.register_number;
    played.weight = note.read.weight;
    played.id = note.read.id;
    played.id == usual->id ? static_cast<void>(*usual = played)
                           : static_cast<void>(instrument.scale.insert(usual + 1, played));
  }
  return instrument;
}

void add_settings(Measurement& measurement, const Json& json) {
  std::optional<double> speed_of_sound_m_s;
  visit_reference(measurement.settings, FieldReader{json});
  measurement.settings.tuning.temperament = temperament_from(at(json, "temperament"));
  visit_conditions(measurement.settings, speed_of_sound_m_s, FieldReader{json});
  measurement.speed_of_sound_m_s = speed_of_sound_m_s.value_or(0.0);
}

void add_hold(Measurement& measurement, const Json& json) {
  NamedHold named;
  HoldWords words;
  visit_hold(named, words, FieldReader{json});
  named.note.fingering = words.fingering.value_or("");
  named.in_scale = text(json, "why_not") != not_in_scale;
  named.target_hz = target_hz(named.note.midi, measurement.settings.tuning);
  measurement.naming.holds.push_back(std::move(named));
  measurement.breath.blow.push_back(words.blow);
  measurement.breath.used.push_back(words.used);
}

Compromise compromise_from(const Json& json, const std::vector<SavedNote>& notes) {
  Compromise compromise;
  visit_compromise(compromise, FieldReader{json});
  if (const Json& steady = at(json, "steady_blow"); !steady.is_null())
    visit_steady_blow(compromise.steady_blow.emplace(), FieldReader{steady});
  CheckNote& check = compromise.check_note;
  NoteWords words;
  visit_check_note(check, words, FieldReader{json.at("check_note")});
  check.id = {midi_called(words.note), words.fingering.value_or("")};
  for (const SavedNote& note : notes) compromise.notes.push_back(note.moved);
  return compromise;
}

std::optional<Drift> drift_from(const Json& json) {
  if (json.is_null()) return std::nullopt;
  Drift drift;
  double computed_c = 0.0;  // follows from the cents
  visit_drift(drift, computed_c, FieldReader{json});
  return drift;
}

/// Why a result that was changed by hand, or by another program, cannot be used; empty where it can.
std::string mistake_in(const Measurement& measurement) {
  const auto is_key = [](int midi) { return midi >= 0 && midi < 128; };
  if (!(measurement.speed_of_sound_m_s > 0)) return "its speed of sound is not positive";
  if (!(measurement.settings.tuning.a4_hz > 0)) return "its A4 is not positive";
  for (const NamedHold& hold : measurement.naming.holds)
    if (!is_key(hold.note.midi)) return "a hold's midi is not from 0 to 127";
  for (const NoteBreath& note : measurement.breath.notes) {
    if (!is_key(note.id.midi)) return "a note's midi is not from 0 to 127";
    if (note.register_number < 1 || !(note.target_hz > 0)) return "a note's register or target is not positive";
    if (!(note.weight >= 0)) return "a note's weight is negative";
  }
  return "";
}

Measurement measurement_from(const Json& json) {
  Measurement measurement;
  add_settings(measurement, json.at("settings"));
  for (const Json& take : json.at("takes")) measurement.takes.push_back(take_from(take));
  std::vector<SavedNote> notes;
  for (const Json& note : json.at("notes")) notes.push_back(saved_note(note));
  const Json& instrument = json.at("settings").at("instrument");
  Naming& naming = measurement.naming;
  naming.instrument = spelling_as(measurement.settings.note_names, instrument_from(instrument, notes));
  read(at(instrument, "inferred"), naming.inferred);
  naming.tuning = measurement.settings.tuning;
  for (const Json& hold : json.at("holds")) add_hold(measurement, hold);
  for (const SavedNote& note : notes) measurement.breath.notes.push_back(note.read);
  measurement.breath.drift = drift_from(at(json, "drift"));
  FieldReader{json}({.key = "repeat_db"}, measurement.breath.repeat_db);
  if (const Json& compromise = at(json, "compromise"); !compromise.is_null())
    measurement.compromise = compromise_from(compromise, notes);
  for (const Json& warning : at(json, "warnings"))
    measurement.warnings.push_back(
        {warning_code(text(warning, "code").value_or("")), text(warning, "message").value_or("")});
  return measurement;
}

}  // namespace

bool is_saved_result(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  char first = 0;
  return file >> std::skipws >> first && first == '{';
}

Measurement measurement_from_json(const std::string& text_of_file, const std::string& name) {
  const Json json = Json::parse(text_of_file, nullptr, false);
  if (json.is_discarded()) refuse(name, "no whole JSON text");
  if (text(json, "schema") != schema) refuse(name, std::string("its \"schema\" is not \"") + schema + "\"");
  try {
    Measurement measurement = measurement_from(json);
    if (const std::string mistake = mistake_in(measurement); !mistake.empty()) refuse(name, mistake);
    return measurement;
  } catch (const Json::exception& failure) {
    refuse(name, failure.what());
  } catch (const Error& failure) {  // a note that none is called so
    refuse(name, failure.what());
  }
}

Measurement read_measurement(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  if (!file) throw Error(ErrorKind::recording, "cannot read " + path + ": no such file, or no right to read it");
  return measurement_from_json({std::istreambuf_iterator<char>(file), {}}, path);
}

}  // namespace windway
