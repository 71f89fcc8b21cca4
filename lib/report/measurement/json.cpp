// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/measurement/json.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <nlohmann/json.hpp>
#include <type_traits>

#include "report/measurement/measurement_fields.hpp"
#include "report/measurement/note_fields.hpp"
#include "report/wording/fields.hpp"
#include "report/wording/spelling.hpp"
#include "slide/warming.hpp"
#include "takes/subject.hpp"

namespace windway {
namespace {

using Json = nlohmann::ordered_json;

template <typename Choice>
requires std::is_enum_v<Choice> Json json_of(Choice choice) { return field_of(choice); }

Json json_of(double value) { return std::isfinite(value) ? Json(rounded(value)) : Json(nullptr); }
Json json_of(int value) { return value; }
Json json_of(bool value) { return value; }
Json json_of(const std::string& value) { return value; }
Json json_of(const InPercent<const double>& value) { return json_of(100.0 * value.share); }

template <typename Value>
Json json_of(const std::optional<Value>& value) {
  return value ? json_of(*value) : Json(nullptr);
}

/// Adds each field that it visits to an object.
struct FieldWriter {
  Json& object;
  bool has_record = true;  ///< false: every field is null

  template <typename Value>
  void operator()(const Field& field, const Value& value) const {
    object[field.key] = has_record ? json_of(value) : Json(nullptr);
  }
  template <typename Pair>
  void operator()(const Field& field, const Field& u95_field, const Pair& pair) const {
    const auto& [value, u95] = pair;
    (*this)(field, value);
    (*this)(u95_field, u95);
  }
  template <typename Pair>
  void operator()(const Field& field, const Field& u95_field, const std::optional<Pair>& pair) const {
    if (pair) return (*this)(field, u95_field, *pair);
    object[field.key] = nullptr;
    object[u95_field.key] = nullptr;
  }
};

Json take_json(const TakeInfo& take) {
  Json json;
  visit_take(take, FieldWriter{json});
  return json;
}

/// Null for a take that could not be measured.
Json instrument_json(const Naming& naming) {
  const Instrument& instrument = naming.instrument;
  if (instrument.scale.empty()) return nullptr;
  Json scale = Json::array();
  for (const ScaleNote& note : instrument.scale) scale.push_back(spelt_for_programs(note.id.midi));
  return {{"name", json_of(instrument.name)},
          {"kind", kind_name(instrument.kind)},
          {"lowest", spelt_for_programs(instrument.lowest_midi)},
          {"scale", scale},
          {"inferred", naming.inferred}};
}

Json temperament_json(const Temperament& temperament) {
  Json cents = nullptr;
  if (temperament.name != TemperamentName::equal) {
    cents = Json::array();
    for (const double above_key : cents_above_key(temperament)) cents.push_back(json_of(above_key));
  }
  const auto& key = temperament.key_pitch_class;
  return {{"name", temperament_word(temperament.name)},
          {"key", key ? Json(pitch_class_for_programs(*key)) : Json(nullptr)},
          {"cents", cents}};
}

Json settings_json(const Measurement& measurement) {
  const MeasureSettings& settings = measurement.settings;
  const double speed_m_s = measurement.speed_of_sound_m_s;
  const auto known_speed_m_s = speed_m_s > 0 ? std::optional(speed_m_s) : std::nullopt;
  Json json;
  visit_reference(settings, FieldWriter{json});
  json["temperament"] = temperament_json(settings.tuning.temperament);
  visit_conditions(settings, known_speed_m_s, FieldWriter{json});
  json["instrument"] = instrument_json(measurement.naming);
  return json;
}

Json why_not(const NamedHold& named, bool used) {
  if (used) return nullptr;
  return named.in_scale ? how_hard_is_not_known : not_in_scale;
}

Json hold_json(const NamedHold& named, const std::optional<Blow>& blow, bool used) {
  const HoldWords words{spelt_for_programs(named.note.midi), further_fingering(named.note), blow, used};
  Json json;
  visit_hold(named, words, FieldWriter{json});
  json["why_not"] = why_not(named, used);
  return json;
}

/// `moved` may be null: no move was computed.
Json note_json(const NoteBreath& note, const MovedNote* moved) {
  const NoteWords words{spelt_for_programs(note.id.midi), further_fingering(note.id)};
  Json json;
  visit_note(note, words, FieldWriter{json});
  visit_air_column(moved ? *moved : MovedNote{}, FieldWriter{json, moved != nullptr});
  if (moved)
    visit_moved(*moved, FieldWriter{json["moved"]});
  else
    json["moved"] = nullptr;
  return json;
}

Json notes_json(const Measurement& measurement) {
  Json notes = Json::array();
  for (std::size_t note = 0; note < measurement.breath.notes.size(); ++note) {
    notes.push_back(note_json(measurement.breath.notes[note],
                              measurement.compromise ? &measurement.compromise->notes[note] : nullptr));
  }
  return notes;
}

Json compromise_json(const std::optional<Compromise>& compromise) {
  if (!compromise) return nullptr;
  const CheckNote& check = compromise->check_note;
  const NoteWords words{spelt_for_programs(check.id.midi), further_fingering(check.id)};
  Json json;
  visit_compromise(*compromise, FieldWriter{json});
  json["steady_blow"] = nullptr;
  if (compromise->steady_blow) visit_steady_blow(*compromise->steady_blow, FieldWriter{json["steady_blow"]});
  visit_check_note(check, words, FieldWriter{json["check_note"]});
  return json;
}

Json drift_json(const std::optional<Drift>& drift, const Air& air) {
  if (!drift) return nullptr;
  Json json;
  visit_drift(*drift, as_warming_c(drift->over_take_cents, air), FieldWriter{json});
  return json;
}

Json warnings_json(const Warnings& all) {
  Json warnings = Json::array();
  for (const Warning& warning : all)
    warnings.push_back({{"code", text_of(warning.code)}, {"message", warning.message}});
  return warnings;
}

Json takes_json(const std::vector<TakeInfo>& all) {
  Json takes = Json::array();
  for (const TakeInfo& take : all) takes.push_back(take_json(take));
  return takes;
}

Json subject_json() {
  Json json;
  for (const auto& each : subject_texts) json[each.name] = nullptr;
  return json;
}

std::string line_of(const Json& value) { return value.dump(-1, ' ', false, Json::error_handler_t::replace); }

JsonMember member(const std::string& key, const Json& value) {
  JsonMember made{key, {}, value.is_array()};
  if (!value.is_array()) made.texts.push_back(line_of(value));
  if (value.is_array()) std::ranges::transform(value, std::back_inserter(made.texts), line_of);
  return made;
}

/// Hold by hold: a take of ten hours has tens of thousands, and their text is a tenth of them all as one value.
JsonMember holds_member(const Measurement& measurement) {
  const BreathResult& breath = measurement.breath;
  JsonMember holds{"holds", {}, true};
  for (std::size_t hold = 0; hold < measurement.naming.holds.size(); ++hold) {
    const NamedHold& named = measurement.naming.holds[hold];
    const bool used = named.in_scale && hold < breath.used.size() && breath.used[hold];
    holds.texts.push_back(
        line_of(hold_json(named, hold < breath.blow.size() ? breath.blow[hold] : std::nullopt, used)));
  }
  return holds;
}

/// An array of objects has a line for each: good to read, to search and to compare.
void append_lines(const JsonMember& member, std::string& json) {
  if (!member.is_array || member.texts.empty()) {
    json += value_of(member);
    return;
  }
  json += "[";
  for (std::size_t i = 0; i < member.texts.size(); ++i) {
    json += i > 0 ? ",\n  " : "\n  ";
    json += member.texts[i];
  }
  json += "]";
}

}  // namespace

std::vector<JsonMember> json_members(const Measurement& measurement, const std::string& program_version) {
  return {member("schema", "windway.measurement.v1"),
          member("program", {{"name", "windway"}, {"version", program_version}}),
          member("takes", takes_json(measurement.takes)),
          member("subject", subject_json()),
          member("settings", settings_json(measurement)),
          holds_member(measurement),
          member("notes", notes_json(measurement)),
          member("compromise", compromise_json(measurement.compromise)),
          member("repeat_db", json_of(measurement.breath.repeat_db)),
          member("drift", drift_json(measurement.breath.drift, measurement.settings.air)),
          member("warnings", warnings_json(measurement.warnings))};
}

std::string value_of(const JsonMember& member) {
  return member.is_array ? fmt::format("[{}]", fmt::join(member.texts, ",")) : member.texts.front();
}

std::string json_report(const Measurement& measurement, const std::string& program_version) {
  const std::vector<JsonMember> members = json_members(measurement, program_version);
  std::size_t length = 1000;
  for (const JsonMember& member : members)
    for (const std::string& text : member.texts) length += text.size() + 4;
  std::string json = "{";
  json.reserve(length);  // no second copy as it grows
  for (const JsonMember& member : members) {
    json += json.size() > 1 ? ",\n \"" : "\"";
    json += member.key;
    json += "\": ";
    append_lines(member, json);
  }
  return json + "}\n";
}

}  // namespace windway
