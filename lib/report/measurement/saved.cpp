// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/measurement/saved.hpp"

#include <algorithm>
#include <cmath>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>

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

std::optional<double> number(const Json& object, const char* key) {
  const Json& value = at(object, key);
  return value.is_null() ? std::nullopt : std::optional(value.get<double>());
}

double number_or(const Json& object, const char* key, double otherwise) {
  return number(object, key).value_or(otherwise);
}

std::optional<std::string> text(const Json& object, const char* key) {
  const Json& value = at(object, key);
  return value.is_null() ? std::nullopt : std::optional(value.get<std::string>());
}

std::optional<CentsEstimate> estimate(const Json& note, const char* cents, const char* u95) {
  const auto value = number(note, cents);
  return value ? std::optional(CentsEstimate{*value, number_or(note, u95, 0.0)}) : std::nullopt;
}

template <typename Choice>
std::optional<Choice> choice(const Json& object, const char* key, std::initializer_list<Choice> choices) {
  const auto word = text(object, key);
  for (const Choice each : choices)
    if (word && *word == field_of(each)) return each;
  return std::nullopt;
}

int midi_called(const std::string& note) { return midi_of(parse_note(note, NoteNames::english)); }

TakeInfo take_from(const Json& json) {
  TakeInfo take;
  take.path = text(json, "path").value_or("");
  take.sha256 = text(json, "sha256").value_or("");
  take.recorded_at = text(json, "recorded_at");
  take.duration_s = number_or(json, "duration_s", 0);
  take.sample_rate_hz = number_or(json, "sample_rate_hz", 0);
  take.channels = static_cast<int>(number_or(json, "channels", 0));
  take.channel_used = static_cast<int>(number_or(json, "channel_used", 0));
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

/// Registers by the rule of its kind, then as the notes that were played say.
Instrument instrument_from(const Json& json, const Json& notes) {
  Instrument instrument;
  instrument.name = text(json, "name");
  instrument.kind = text(json, "kind") == "recorder" ? Kind::recorder : Kind::whistle;
  instrument.lowest_midi = midi_called(json.at("lowest").get<std::string>());
  for (const Json& note : json.at("scale")) {
    const int midi = midi_called(note.get<std::string>());
    const int register_number = register_of(instrument.kind, midi - instrument.lowest_midi);
    if (!scale_note(instrument, midi)) instrument.scale.push_back({.midi = midi, .register_number = register_number});
  }
  for (const Json& note : notes) {
    const int midi = note.at("midi").get<int>();
    const auto usual = std::ranges::find(instrument.scale, midi, &ScaleNote::midi);
    if (usual == instrument.scale.end()) continue;
    const auto fingering = text(note, "fingering");
    ScaleNote played = *usual;
    played.register_number = static_cast<int>(number_or(note, "register", usual->register_number));
    played.weight = number_or(note, "weight", 1.0);
    played.fingering = fingering.value_or("");
    fingering ? static_cast<void>(instrument.scale.insert(usual + 1, played)) : static_cast<void>(*usual = played);
  }
  return instrument;
}

MeasureSettings settings_from(const Json& json) {
  MeasureSettings settings;
  settings.tuning = {number_or(json, "a4_hz", 440.0), temperament_from(at(json, "temperament"))};
  settings.a4_u95_hz = number(json, "a4_u95_hz");
  settings.air.temperature_c = number_or(json, "bore_temp_c", settings.air.temperature_c);
  settings.air.relative_humidity = number_or(json, "humidity_percent", 100 * settings.air.relative_humidity) / 100.0;
  settings.air.co2_fraction = number_or(json, "co2_percent", 100 * settings.air.co2_fraction) / 100.0;
  settings.quote_at_c = number(json, "quote_at_c");
  settings.head.out_mm = number(json, "head_out_mm");
  settings.head.travel_mm = number(json, "travel_mm");
  settings.head.moves = !at(json, "head_moves").is_boolean() || json["head_moves"].get<bool>();
  if (const auto factor = number(json, "slide_factor"))
    settings.head.factor = SlideFactor{*factor, number_or(json, "slide_factor_u95", 0.0)};
  settings.hold_rules.min_hold_s = number_or(json, "min_hold_s", settings.hold_rules.min_hold_s);
  settings.note_names = text(json, "note_names") == "german" ? NoteNames::german : NoteNames::english;
  return settings;
}

NamedHold hold_from(const Json& json, const Instrument& instrument, const Tuning& tuning) {
  NamedHold named;
  Hold& hold = named.hold;
  named.midi = json.at("midi").get<int>();
  named.fingering = fingering_number(instrument, named.midi, text(json, "fingering").value_or("")).value_or(0);
  named.in_scale = text(json, "why_not") != "not in this scale";
  named.target_hz = target_hz(named.midi, tuning);
  named.deviation_cents = number_or(json, "deviation_cents", 0);
  hold.take = static_cast<int>(number_or(json, "take", 0));
  hold.start_s = number_or(json, "start_s", 0);
  hold.end_s = number_or(json, "end_s", 0);
  hold.steady_start_s = number_or(json, "steady_start_s", 0);
  hold.steady_end_s = number_or(json, "steady_end_s", 0);
  hold.frequency_hz = number_or(json, "frequency_hz", 0);
  hold.frequency_u95_cents = number_or(json, "frequency_u95_cents", 0);
  hold.wander_cents = number_or(json, "wander_cents", 0);
  hold.level_db = number_or(json, "level_db", 0);
  hold.register_break = at(json, "register_break").is_boolean() && json["register_break"].get<bool>();
  return named;
}

NoteBreath note_from(const Json& json, const Instrument& instrument) {
  NoteBreath note;
  note.midi = json.at("midi").get<int>();
  note.fingering = fingering_number(instrument, note.midi, text(json, "fingering").value_or("")).value_or(0);
  note.register_number = static_cast<int>(number_or(json, "register", 1));
  note.target_hz = json.at("target_hz").get<double>();
  note.weight = number_or(json, "weight", 1.0);
  note.holds = static_cast<int>(number_or(json, "holds", 0));
  note.soft = estimate(json, "soft_cents", "soft_u95_cents");
  note.moderate = {json.at("moderate_cents").get<double>(), number_or(json, "moderate_u95_cents", 0.0)};
  note.moderate_is_midway = at(json, "moderate_is_midway").is_boolean() && json["moderate_is_midway"].get<bool>();
  note.hard = estimate(json, "hard_cents", "hard_u95_cents");
  note.spread = estimate(json, "spread_cents", "spread_u95_cents");
  note.cents_per_db = estimate(json, "cents_per_db", "cents_per_db_u95");
  note.level_range_db = number(json, "level_range_db");
  note.reach_soft_cents = number(json, "reach_soft_cents");
  note.reach_hard_cents = number(json, "reach_hard_cents");
  return note;
}

MovedNote moved_from(const Json& note) {
  const Json& json = at(note, "moved");
  MovedNote moved;
  moved.cents = number_or(json, "cents", 0);
  moved.u95_cents = number_or(json, "u95_cents", 0);
  moved.effort = number_or(json, "effort", 0);
  moved.breath =
      choice(json, "breath",
             {BreathAdvice::as_it_is, BreathAdvice::softer, BreathAdvice::harder, BreathAdvice::out_of_reach})
          .value_or(BreathAdvice::as_it_is);
  moved.breath_share = number(json, "breath_share");
  moved.breath_db = number(json, "breath_db");
  moved.beats_hz = number_or(json, "beats_hz", 0);
  moved.reach_soft_cents = number_or(note, "reach_soft_cents", least_reach_cents);
  moved.reach_hard_cents = number_or(note, "reach_hard_cents", least_reach_cents);
  moved.effective_length_mm = number_or(note, "effective_length_mm", 0);
  moved.cents_per_mm = number_or(note, "cents_per_mm", 0);
  return moved;
}

std::optional<SteadyBlow> steady_blow_from(const Json& json) {
  if (json.is_null()) return std::nullopt;
  return SteadyBlow{number_or(json, "louder_db", 0), number_or(json, "way_share", 0), number_or(json, "shift_cents", 0),
                    number_or(json, "cost_after", 0)};
}

Compromise compromise_from(const Json& json, const Json& notes, const Instrument& instrument) {
  Compromise compromise;
  compromise.slide_mm = json.at("slide_mm").get<double>();
  compromise.slide_u95_mm = number_or(json, "slide_u95_mm", 0);
  compromise.slide_model_u95_mm = number_or(json, "slide_model_u95_mm", 0);
  compromise.shift_cents = number_or(json, "shift_cents", 0);
  compromise.shift_u95_cents = number_or(json, "shift_u95_cents", 0);
  compromise.limit = choice(json, "limit", {SlideLimit::fully_in, SlideLimit::travel, SlideLimit::fixed_head});
  compromise.cost_before = number_or(json, "cost_before", 0);
  compromise.cost_after = number_or(json, "cost_after", 0);
  compromise.home_a4_hz = number_or(json, "home_a4_hz", 440);
  compromise.lowest_a4_hz = number(json, "lowest_a4_hz");
  compromise.highest_a4_hz = number(json, "highest_a4_hz");
  compromise.steady_blow = steady_blow_from(at(json, "steady_blow"));
  const Json& check = json.at("check_note");
  CheckNote& check_note = compromise.check_note;
  check_note = {midi_called(check.at("note").get<std::string>()), number_or(check, "cents", 0),
                number_or(check, "u95_mm", 0), 0};
  check_note.fingering =
      fingering_number(instrument, check_note.midi, text(check, "fingering").value_or("")).value_or(0);
  for (const Json& note : notes) compromise.notes.push_back(moved_from(note));
  return compromise;
}

std::optional<Drift> drift_from(const Json& json) {
  if (json.is_null()) return std::nullopt;
  return Drift{number_or(json, "over_take_cents", 0), number_or(json, "over_take_u95_cents", 0),
               number(json, "reference_time_s")};
}

void add_holds(Measurement& measurement, const Json& holds) {
  for (const Json& hold : holds) {
    measurement.naming.holds.push_back(hold_from(hold, measurement.naming.instrument, measurement.settings.tuning));
    measurement.breath.blow.push_back(choice(hold, "blow", {Blow::soft, Blow::moderate, Blow::hard, Blow::swell}));
    measurement.breath.used.push_back(at(hold, "used").is_boolean() && hold["used"].get<bool>());
  }
}

/// Why a result that was changed by hand, or by another program, cannot be used; empty where it can.
std::string mistake_in(const Measurement& measurement) {
  const auto is_key = [](int midi) { return midi >= 0 && midi < 128; };
  if (!(measurement.speed_of_sound_m_s > 0)) return "its speed of sound is not positive";
  if (!(measurement.settings.tuning.a4_hz > 0)) return "its A4 is not positive";
  for (const NamedHold& hold : measurement.naming.holds)
    if (!is_key(hold.midi)) return "a hold's midi is not from 0 to 127";
  for (const NoteBreath& note : measurement.breath.notes) {
    if (!is_key(note.midi)) return "a note's midi is not from 0 to 127";
    if (note.register_number < 1 || !(note.target_hz > 0)) return "a note's register or target is not positive";
    if (!(note.weight >= 0)) return "a note's weight is negative";
  }
  return "";
}

Measurement measurement_from(const Json& json) {
  Measurement measurement;
  measurement.settings = settings_from(json.at("settings"));
  measurement.speed_of_sound_m_s = number_or(json.at("settings"), "speed_of_sound_m_s", 0);
  for (const Json& take : json.at("takes")) measurement.takes.push_back(take_from(take));
  const Json& instrument = json.at("settings").at("instrument");
  Naming& naming = measurement.naming;
  naming.instrument = spelling_as(measurement.settings.note_names, instrument_from(instrument, json.at("notes")));
  naming.inferred = at(instrument, "inferred").is_boolean() && instrument["inferred"].get<bool>();
  naming.tuning = measurement.settings.tuning;
  add_holds(measurement, json.at("holds"));
  for (const Json& note : json.at("notes")) measurement.breath.notes.push_back(note_from(note, naming.instrument));
  measurement.breath.drift = drift_from(at(json, "drift"));
  measurement.breath.repeat_db = number(json, "repeat_db");
  if (!at(json, "compromise").is_null())
    measurement.compromise = compromise_from(json["compromise"], json.at("notes"), naming.instrument);
  for (const Json& warning : at(json, "warnings"))
    measurement.warnings.push_back({text(warning, "code").value_or(""), text(warning, "message").value_or("")});
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
