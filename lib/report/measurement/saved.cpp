// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/measurement/saved.hpp"

#include <algorithm>
#include <cctype>
#include <nlohmann/json.hpp>
#include <type_traits>
#include <utility>

#include "input/input_file.hpp"
#include "report/measurement/figures_fields.hpp"
#include "report/measurement/json.hpp"
#include "report/measurement/measurement_fields.hpp"
#include "report/measurement/mistake_in_saved.hpp"
#include "report/measurement/note_fields.hpp"
#include "report/measurement/saved_instrument.hpp"
#include "report/measurement/takes_fields.hpp"
#include "report/record/bounds.hpp"
#include "report/wording/choices.hpp"
#include "report/wording/spelling.hpp"
#include "slide/moved_note.hpp"

namespace windway {
namespace {

using Json = nlohmann::json;

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

/// Throws where the number does not fit.
int whole_number(const Json& json) {
  const auto number = json.get<double>();
  if (!(number >= -1e9 && number <= 1e9))
    throw Error(ErrorKind::recording, "a whole number of it cannot be " + json.dump());
  return static_cast<int>(number);
}

void read(const Json& json, double& value) { value = json.get<double>(); }
void read(const Json& json, int& value) { value = whole_number(json); }
void read(const Json& json, bool& value) { value = json.is_boolean() ? json.get<bool>() : value; }
void read(const Json& json, std::optional<bool>& value) { value = json.get<bool>(); }
void read(const Json& json, std::string& value) { value = json.get<std::string>(); }
void read(const Json& json, std::optional<double>& value) { value = json.get<double>(); }
void read(const Json& json, std::optional<std::string>& value) { value = json.get<std::string>(); }
void read(const Json& json, std::vector<std::string>& value) { value = json.get<std::vector<std::string>>(); }
void read(const Json& json, std::optional<std::vector<double>>& value) { value = json.get<std::vector<double>>(); }
void read(const Json& json, std::vector<double>& value) { value = json.get<std::vector<double>>(); }
void read(const Json& json, std::vector<int>& value) {
  for (const Json& each : json) value.push_back(whole_number(each));
}
void read(const Json& json, InPercent<double> value) { value.share = json.get<double>() / 100.0; }

/// Throws where a figure is none that the field can have.
template <typename Value>
void require_possible(const Field& field, const Value& value) {
  if constexpr (std::is_arithmetic_v<Value> && !std::is_same_v<Value, bool>)
    if (!is_possible(field, static_cast<double>(value)))
      throw Error(ErrorKind::recording, std::string("its \"") + field.key + "\" cannot be " + Json(value).dump());
}

template <typename Value>
void require_possible(const Field& field, const std::optional<Value>& value) {
  if (value) require_possible(field, *value);
}

template <typename Value>
void require_possible(const Field& field, const std::vector<Value>& values) {
  for (const Value& each : values) require_possible({.key = field.key}, each);  // the bounds are those of the list
}

void require_possible(const Field& field, InPercent<double> value) { require_possible(field, 100.0 * value.share); }

/// Reads each field that it visits from an object; what is missing or null keeps its default. Throws Json::exception
/// where a value is of another type, or one that must be there is not, and Error where it is out of bounds.
struct FieldReader {
  const Json& object;

  template <typename Value>
  void operator()(const Field& field, Value&& value) const {
    const Json& found = field.is(required) ? object.at(field.key) : at(object, field.key);
    if (field.is(required) || !found.is_null()) read(found, value);
    require_possible(field, value);
  }
  template <typename Estimate>
  void operator()(const Field& field, const char* u95_key, Estimate& estimate) const {
    auto& [value, u95] = estimate;
    (*this)(field, value);
    (*this)(u95_of(field, u95_key), u95);
  }
  template <typename Estimate>
  void operator()(const Field& field, const char* u95_key, std::optional<Estimate>& estimate) const {
    if (at(object, field.key).is_null()) return;
    auto& [value, u95] = estimate.emplace();
    u95 = 0.0;
    (*this)(field, value);
    (*this)(u95_of(field, u95_key), u95);
  }
};

TakeInfo take_from(const Json& json) {
  TakeInfo take;
  visit_take(take, FieldReader{json});
  return take;
}

Temperament temperament_from(const Json& json) {
  TemperamentWords words;
  visit_temperament(words, FieldReader{json});
  Temperament temperament;
  temperament.name = temperament_called(words.name).value_or(TemperamentName::equal);
  if (words.key) temperament.key_pitch_class = parse_note(*words.key, NoteNames::english).pitch_class;
  if (words.cents && words.cents->size() == temperament.own_cents.size())
    std::ranges::copy(*words.cents, temperament.own_cents.begin());
  return temperament;
}

/// A note as it was saved.
struct SavedNote {
  NoteBreath read;
  MovedNote moved;
};

SavedNote saved_note(const Json& json) {
  SavedNote note;
  std::string name;  // midi says the same
  visit_note(note.read, name, FieldReader{json});
  visit_air_column(note.moved, FieldReader{json});
  if (const Json& moved = at(json, "moved"); !moved.is_null()) visit_moved(note.moved, FieldReader{moved});
  return note;
}

/// Of a version that knew no targets they are on the temperament; one that knew no maker says none.
InstrumentWords instrument_words(const Json& json) {
  InstrumentWords words;
  visit_instrument(words, FieldReader{json});
  for (const Json& target : at(json, "targets")) {
    std::string name;  // midi says the same
    visit_note_target(words.targets.emplace_back(), name, FieldReader{target});
  }
  if (const Json& maker = at(json, "maker"); !maker.is_null()) visit_maker(words.maker.emplace(), FieldReader{maker});
  return words;
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
  named.in_scale = words.why_not != not_in_scale;
  named.target_hz = target_hz(named.note, measurement.naming.instrument, measurement.settings.tuning);
  measurement.naming.holds.push_back(std::move(named));
  measurement.breath.blow.push_back(words.blow);
  measurement.breath.used.push_back(words.used);
  const double deviation_cents = measurement.naming.holds.back().deviation_cents;
  measurement.breath.correction_cents.push_back(words.at_reference_cents.value_or(deviation_cents) - deviation_cents);
}

void add_loudness(Measurement& measurement, const Json& json) {
  int take = 0;  // they stand in the takes' order
  PowerCurve loudness;
  std::vector<double> level_db;
  visit_loudness(take, loudness, level_db, FieldReader{json});
  loudness.power_db.assign(level_db.begin(), level_db.end());
  measurement.loudness.push_back(std::move(loudness));
}

Compromise compromise_from(const Json& json, const std::vector<SavedNote>& notes) {
  Compromise compromise;
  visit_compromise(compromise, FieldReader{json});
  if (const Json& steady = at(json, "steady_blow"); !steady.is_null())
    visit_steady_blow(compromise.steady_blow.emplace(), FieldReader{steady});
  CheckNote& check = compromise.check_note;
  std::string name;
  visit_check_note(check, name, FieldReader{json.at("check_note")});
  check.id.midi = midi_spelt_for_programs(name);
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

std::optional<HeadPlaces> places_from(const Json& json) {
  if (json.is_null()) return std::nullopt;
  HeadPlaces places;
  visit_places(places, FieldReader{json});
  for (const Json& note : at(json, "not_following")) {
    std::string name;  // midi says the same
    visit_note_not_following(places.not_following.emplace_back(), name, FieldReader{note});
  }
  return places;
}

std::optional<TakeAgreement> agreement_from(const Json& json) {
  if (json.is_null()) return std::nullopt;
  TakeAgreement agreement;
  visit_agreement(agreement, FieldReader{json});
  for (const Json& take : at(json, "takes")) visit_take_offset(agreement.takes.emplace_back(), FieldReader{take});
  for (const Json& note : at(json, "notes")) {
    std::string name;
    visit_note_apart(agreement.notes.emplace_back(), name, FieldReader{note});
  }
  FieldReader{json}({.key = "left_out"}, agreement.left_out);
  return agreement;
}

Measurement measurement_from(const Json& json) {
  Measurement measurement;
  add_settings(measurement, json.at("settings"));
  for (const Json& take : json.at("takes")) measurement.takes.push_back(take_from(take));
  std::vector<SavedNote> notes;
  for (const Json& note : json.at("notes")) notes.push_back(saved_note(note));
  for (const SavedNote& note : notes) measurement.breath.notes.push_back(note.read);
  const InstrumentWords instrument = instrument_words(json.at("settings").at("instrument"));
  Naming& naming = measurement.naming;
  naming.instrument = spelling_as(measurement.settings.note_names, instrument_of(instrument, measurement.breath.notes));
  naming.inferred = instrument.inferred;
  naming.tuning = measurement.settings.tuning;
  if (const Json& holds = json.at("holds"); !holds.is_null())  // windway batch leaves them out
    for (const Json& hold : holds) add_hold(measurement, hold);
  for (const Json& stretch : at(json, "left_out"))
    visit_left_out(measurement.left_out.emplace_back(), FieldReader{stretch});
  for (const Json& curve : at(json, "loudness")) add_loudness(measurement, curve);
  measurement.breath.drift = drift_from(at(json, "drift"));
  measurement.places = places_from(at(json, "places"));
  measurement.agreement = agreement_from(at(json, "agreement"));
  FieldReader{json}({.key = "repeat_db"}, measurement.breath.repeat_db);
  FieldReader{json}({.key = "arguments"}, measurement.arguments);
  if (const Json& compromise = at(json, "compromise"); !compromise.is_null())
    measurement.compromise = compromise_from(compromise, notes);
  for (const Json& warning : at(json, "warnings"))
    visit_warning(measurement.warnings.emplace_back(), FieldReader{warning});
  return measurement;
}

}  // namespace

bool is_saved_result(const std::string& path) {
  try {
    constexpr std::size_t most_blanks = 4096;
    const std::vector<unsigned char> begin = InputFile(path).bytes_at(0, most_blanks);
    const auto first = std::ranges::find_if_not(begin, [](unsigned char c) { return std::isspace(c) != 0; });
    return first != begin.end() && *first == '{';
  } catch (const Error&) {  // whoever measures it says why it cannot be read
    return false;
  }
}

Measurement measurement_from_json(const std::string& text_of_file, const std::string& name) {
  const Json json = Json::parse(text_of_file, nullptr, false);
  if (json.is_discarded()) refuse(name, "no whole JSON text");
  if (at(json, "schema") != measurement_schema)
    refuse(name, std::string("its \"schema\" is not \"") + measurement_schema + "\"");
  try {
    Measurement measurement = measurement_from(json);
    if (const std::string mistake = mistake_in(measurement); !mistake.empty()) refuse(name, mistake);
    if (measurement.compromise)
      measurement.compromise->notes =
          with_reaches(std::move(measurement.compromise->notes),
                       slide_notes(measurement.breath.notes, measurement.speed_of_sound_m_s));
    return measurement;
  } catch (const Json::exception& failure) {
    refuse(name, failure.what());
  } catch (const Error& failure) {  // a note that none is called so
    refuse(name, failure.what());
  }
}

Measurement read_measurement(const std::string& path) {
  constexpr std::int64_t most_bytes = std::int64_t{1} << 30U;  // a day with its curves has 200 MB
  const InputFile file(path);
  if (file.size_bytes() > most_bytes) refuse(path, "it is larger than 1 GiB");
  const std::vector<unsigned char> bytes = file.bytes_at(0, static_cast<std::size_t>(file.size_bytes()));
  return measurement_from_json({bytes.begin(), bytes.end()}, take_name(path));
}

}  // namespace windway
