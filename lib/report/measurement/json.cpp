// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/measurement/json.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <nlohmann/json.hpp>

#include "report/wording/fields.hpp"
#include "report/wording/spelling.hpp"
#include "slide/warming.hpp"

namespace windway {
namespace {

using Json = nlohmann::ordered_json;

Json number(double value) { return std::isfinite(value) ? Json(rounded(value)) : Json(nullptr); }
Json number(const std::optional<double>& value) { return value ? number(*value) : Json(nullptr); }

Json text(const std::optional<std::string>& value) { return value ? Json(*value) : Json(nullptr); }

Json cents_of(const std::optional<CentsEstimate>& estimate) {
  return estimate ? number(estimate->cents) : Json(nullptr);
}

Json u95_of(const std::optional<CentsEstimate>& estimate) {
  return estimate ? number(estimate->u95_cents) : Json(nullptr);
}

Json take_json(const TakeInfo& take) {
  return {{"path", take.path},
          {"sha256", take.sha256},
          {"recorded_at", text(take.recorded_at)},
          {"duration_s", number(take.duration_s)},
          {"sample_rate_hz", number(take.sample_rate_hz)},
          {"channels", take.channels},
          {"channel_used", take.channel_used}};
}

/// Null for a take that could not be measured.
Json instrument_json(const Naming& naming) {
  const Instrument& instrument = naming.instrument;
  if (instrument.scale.empty()) return nullptr;
  Json scale = Json::array();
  for (const ScaleNote& note : instrument.scale) scale.push_back(spelt_for_programs(note.midi));
  return {{"name", text(instrument.name)},
          {"kind", kind_name(instrument.kind)},
          {"lowest", spelt_for_programs(instrument.lowest_midi)},
          {"scale", scale},
          {"inferred", naming.inferred}};
}

Json temperament_json(const Temperament& temperament) {
  Json cents = nullptr;
  if (temperament.name != TemperamentName::equal) {
    cents = Json::array();
    for (const double above_key : cents_above_key(temperament)) cents.push_back(number(above_key));
  }
  const auto& key = temperament.key_pitch_class;
  return {{"name", temperament_word(temperament.name)},
          {"key", key ? Json(pitch_class_for_programs(*key)) : Json(nullptr)},
          {"cents", cents}};
}

Json settings_json(const Measurement& measurement) {
  const MeasureSettings& settings = measurement.settings;
  return {{"a4_hz", number(settings.tuning.a4_hz)},
          {"a4_u95_hz", number(settings.a4_u95_hz)},
          {"temperament", temperament_json(settings.tuning.temperament)},
          {"bore_temp_c", number(settings.air.temperature_c)},
          {"humidity_percent", number(100.0 * settings.air.relative_humidity)},
          {"co2_percent", number(100.0 * settings.air.co2_fraction)},
          {"quote_at_c", number(settings.quote_at_c)},
          {"speed_of_sound_m_s",
           measurement.speed_of_sound_m_s > 0 ? number(measurement.speed_of_sound_m_s) : Json(nullptr)},
          {"head_out_mm", number(settings.head.out_mm)},
          {"travel_mm", number(settings.head.travel_mm)},
          {"head_moves", settings.head.moves},
          {"slide_factor", settings.head.factor ? number(settings.head.factor->factor) : Json(nullptr)},
          {"slide_factor_u95", settings.head.factor ? number(settings.head.factor->u95) : Json(nullptr)},
          {"min_hold_s", number(settings.hold_rules.min_hold_s)},
          {"note_names", settings.note_names == NoteNames::german ? "german" : "english"},
          {"instrument", instrument_json(measurement.naming)}};
}

Json why_not(const NamedHold& named, bool used) {
  if (used) return nullptr;
  return named.in_scale ? "how hard it was blown is not known" : "not in this scale";
}

/// The name of a further fingering; null for the usual one.
Json fingering_json(const Instrument& instrument, int midi, int fingering) {
  const auto name = further_fingering(midi, fingering, instrument);
  return name ? Json(*name) : Json(nullptr);
}

Json hold_json(const Instrument& instrument, const NamedHold& named, const std::optional<Blow>& blow, bool used) {
  const Hold& hold = named.hold;
  return {{"take", hold.take},
          {"note", spelt_for_programs(named.midi)},
          {"midi", named.midi},
          {"fingering", fingering_json(instrument, named.midi, named.fingering)},
          {"blow", blow ? Json(field_of(*blow)) : Json(nullptr)},
          {"start_s", number(hold.start_s)},
          {"end_s", number(hold.end_s)},
          {"steady_start_s", number(hold.steady_start_s)},
          {"steady_end_s", number(hold.steady_end_s)},
          {"frequency_hz", number(hold.frequency_hz)},
          {"frequency_u95_cents", number(hold.frequency_u95_cents)},
          {"deviation_cents", number(named.deviation_cents)},
          {"wander_cents", number(hold.wander_cents)},
          {"level_db", number(hold.level_db)},
          {"register_break", hold.register_break},
          {"used", used},
          {"why_not", why_not(named, used)}};
}

Json moved_json(const MovedNote& moved) {
  return {{"cents", number(moved.cents)},
          {"u95_cents", number(moved.u95_cents)},
          {"effort", number(moved.effort)},
          {"breath", field_of(moved.breath)},
          {"breath_share", number(moved.breath_share)},
          {"breath_db", number(moved.breath_db)},
          {"beats_hz", number(moved.beats_hz)}};
}

/// `moved` may be null: no move was computed.
Json note_json(const Instrument& instrument, const NoteBreath& note, const MovedNote* moved) {
  return {{"note", spelt_for_programs(note.midi)},
          {"midi", note.midi},
          {"fingering", fingering_json(instrument, note.midi, note.fingering)},
          {"weight", number(note.weight)},
          {"register", note.register_number},
          {"target_hz", number(note.target_hz)},
          {"holds", note.holds},
          {"soft_cents", cents_of(note.soft)},
          {"soft_u95_cents", u95_of(note.soft)},
          {"moderate_cents", cents_of(note.moderate)},
          {"moderate_u95_cents", u95_of(note.moderate)},
          {"moderate_is_midway", note.moderate_is_midway},
          {"hard_cents", cents_of(note.hard)},
          {"hard_u95_cents", u95_of(note.hard)},
          {"spread_cents", cents_of(note.spread)},
          {"spread_u95_cents", u95_of(note.spread)},
          {"cents_per_db", cents_of(note.cents_per_db)},
          {"cents_per_db_u95", u95_of(note.cents_per_db)},
          {"level_range_db", number(note.level_range_db)},
          {"reach_soft_cents", number(note.reach_soft_cents)},
          {"reach_hard_cents", number(note.reach_hard_cents)},
          {"effective_length_mm", moved ? number(moved->effective_length_mm) : Json(nullptr)},
          {"cents_per_mm", moved ? number(moved->cents_per_mm) : Json(nullptr)},
          {"moved", moved ? moved_json(*moved) : Json(nullptr)}};
}

Json notes_json(const Measurement& measurement) {
  Json notes = Json::array();
  for (std::size_t note = 0; note < measurement.breath.notes.size(); ++note) {
    notes.push_back(note_json(measurement.naming.instrument, measurement.breath.notes[note],
                              measurement.compromise ? &measurement.compromise->notes[note] : nullptr));
  }
  return notes;
}

Json steady_blow_json(const std::optional<SteadyBlow>& blow) {
  if (!blow) return nullptr;
  return {{"louder_db", number(blow->louder_db)},
          {"way_share", number(blow->way_share)},
          {"shift_cents", number(blow->shift_cents)},
          {"cost_after", number(blow->cost_after)}};
}

Json compromise_json(const std::optional<Compromise>& compromise, const Instrument& instrument) {
  if (!compromise) return nullptr;
  const CheckNote& check = compromise->check_note;
  return {{"slide_mm", number(compromise->slide_mm)},
          {"slide_u95_mm", number(compromise->slide_u95_mm)},
          {"slide_model_u95_mm", number(compromise->slide_model_u95_mm)},
          {"shift_cents", number(compromise->shift_cents)},
          {"shift_u95_cents", number(compromise->shift_u95_cents)},
          {"limit", compromise->limit ? Json(field_of(*compromise->limit)) : Json(nullptr)},
          {"cost_before", number(compromise->cost_before)},
          {"cost_after", number(compromise->cost_after)},
          {"home_a4_hz", number(compromise->home_a4_hz)},
          {"lowest_a4_hz", number(compromise->lowest_a4_hz)},
          {"highest_a4_hz", number(compromise->highest_a4_hz)},
          {"steady_blow", steady_blow_json(compromise->steady_blow)},
          {"check_note",
           {{"note", spelt_for_programs(check.midi)},
            {"fingering", fingering_json(instrument, check.midi, check.fingering)},
            {"cents", number(check.cents)},
            {"u95_mm", number(check.u95_mm)}}}};
}

Json drift_json(const std::optional<Drift>& drift, const Air& air) {
  if (!drift) return nullptr;
  return {{"over_take_cents", number(drift->over_take_cents)},
          {"over_take_u95_cents", number(drift->over_take_u95_cents)},
          {"as_warming_c", number(as_warming_c(drift->over_take_cents, air))},
          {"reference_time_s", number(drift->reference_time_s)}};
}

Json warnings_json(const Warnings& all) {
  Json warnings = Json::array();
  for (const Warning& warning : all) warnings.push_back({{"code", warning.code}, {"message", warning.message}});
  return warnings;
}

Json takes_json(const std::vector<TakeInfo>& all) {
  Json takes = Json::array();
  for (const TakeInfo& take : all) takes.push_back(take_json(take));
  return takes;
}

Json subject_json() {
  return {{"serial", nullptr},   {"stage", nullptr}, {"lot", nullptr},
          {"material", nullptr}, {"head", nullptr},  {"operator", nullptr}};
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
    holds.texts.push_back(line_of(hold_json(measurement.naming.instrument, named,
                                            hold < breath.blow.size() ? breath.blow[hold] : std::nullopt, used)));
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
          member("compromise", compromise_json(measurement.compromise, measurement.naming.instrument)),
          member("repeat_db", number(measurement.breath.repeat_db)),
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
