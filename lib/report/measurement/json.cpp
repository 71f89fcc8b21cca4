// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/measurement/json.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "report/measurement/figures_fields.hpp"
#include "report/measurement/measurement_fields.hpp"
#include "report/measurement/note_fields.hpp"
#include "report/measurement/takes_fields.hpp"
#include "report/record/json_record.hpp"
#include "report/wording/figures.hpp"
#include "slide/warming.hpp"

namespace windway {
namespace {

/// Null for a take that could not be measured.
std::string instrument_json(const Naming& naming) {
  if (naming.instrument.scale.empty()) return "null";
  return json_object([&](const JsonWriter& write) { visit_whole_instrument(words_of(naming), write); });
}

std::string temperament_json(const Temperament& temperament) {
  TemperamentWords words{temperament_word(temperament.name), {}, {}};
  if (temperament.key_pitch_class) words.key = pitch_class_for_programs(*temperament.key_pitch_class);
  if (temperament.name != TemperamentName::equal) {
    const auto cents = cents_above_key(temperament);
    words.cents.emplace(cents.begin(), cents.end());
  }
  return json_object([&](const JsonWriter& write) { visit_temperament(words, write); });
}

std::string settings_json(const Measurement& measurement) {
  const MeasureSettings& settings = measurement.settings;
  const double speed_m_s = measurement.speed_of_sound_m_s;
  return json_object([&](const JsonWriter& write) {
    visit_reference(settings, write);
    write.add("temperament", temperament_json(settings.tuning.temperament));
    visit_conditions(settings, speed_m_s > 0 ? std::optional(speed_m_s) : std::nullopt, write);
    write.add("instrument", instrument_json(measurement.naming));
  });
}

/// `moved` may be null: no move was computed.
std::string note_json(const NoteBreath& note, const MovedNote* moved) {
  return json_object([&](const JsonWriter& write) {
    visit_note(note, spelt_for_programs(note.id.midi), write);
    visit_air_column(moved ? *moved : MovedNote{}, JsonWriter{write.object, moved != nullptr});
    write.add("moved", moved ? json_object([&](const JsonWriter& inner) { visit_moved(*moved, inner); }) : "null");
  });
}

std::vector<std::string> notes_json(const Measurement& measurement) {
  std::vector<std::string> notes;
  for (std::size_t note = 0; note < measurement.breath.notes.size(); ++note)
    notes.push_back(note_json(measurement.breath.notes[note],
                              measurement.compromise ? &measurement.compromise->notes[note] : nullptr));
  return notes;
}

std::string compromise_json(const std::optional<Compromise>& compromise) {
  if (!compromise) return "null";
  const CheckNote& check = compromise->check_note;
  return json_object([&](const JsonWriter& write) {
    visit_compromise(*compromise, write);
    write(Field{"steady_blow"}, Nested{compromise->steady_blow,
                                       [](const SteadyBlow& blow, auto&& visit) { visit_steady_blow(blow, visit); }});
    write(Field{"check_note"}, Nested{check, [](const CheckNote& note, auto&& visit) {
                                        visit_check_note(note, spelt_for_programs(note.id.midi), visit);
                                      }});
  });
}

std::string drift_json(const std::optional<Drift>& drift, const Air& air) {
  return json_text(Nested{drift, [&](const Drift& known, auto&& visit) {
                            // From the cents as they are written, so that a saved result says the same again.
                            visit_drift(known, as_warming_c(rounded(known.over_take_cents), air), visit);
                          }});
}

std::string places_json(const std::optional<HeadPlaces>& places) {
  return json_text(Nested{places, [](const HeadPlaces& known, auto&& visit) { visit_whole_places(known, visit); }});
}

std::string agreement_json(const std::optional<TakeAgreement>& agreement) {
  return json_text(
      Nested{agreement, [](const TakeAgreement& known, auto&& visit) { visit_whole_agreement(known, visit); }});
}

std::vector<std::string> holds_json(const Measurement& measurement) {
  const BreathResult& breath = measurement.breath;
  std::vector<std::string> holds;
  for (std::size_t hold = 0; hold < measurement.naming.holds.size(); ++hold) {
    const NamedHold& named = measurement.naming.holds[hold];
    HoldWords words{.name = spelt_for_programs(named.note.midi)};
    if (hold < breath.blow.size()) words.blow = breath.blow[hold];
    words.used = named.in_scale && hold < breath.used.size() && breath.used[hold];
    if (hold < breath.correction_cents.size())
      words.at_reference_cents = named.deviation_cents + breath.correction_cents[hold];
    if (!words.used) words.why_not = named.in_scale ? how_hard_is_not_known : not_in_scale;
    holds.push_back(json_object([&](const JsonWriter& write) { visit_hold(named, words, write); }));
  }
  return holds;
}

template <typename Items, typename VisitFields>
std::vector<std::string> objects_of(const Items& items, const VisitFields& visit_fields) {
  std::vector<std::string> texts;
  for (const auto& item : items)
    texts.push_back(json_object([&](const JsonWriter& write) { visit_fields(item, write); }));
  return texts;
}

/// What the figures draw; null where they draw nothing.
JsonMember figures_json(const Measurement& measurement) {
  const auto picture = pictured(measurement);
  if (!picture) return {"figures", {"null"}, false};
  JsonMember member{"figures", {}, true};
  for (const PicturedNote& note : picture->notes)
    member.texts.push_back(json_object([&](const JsonWriter& write) {
      visit_pictured(note, spelt_for_programs(note.read->id.midi), blow_levels(measurement, note.read->id),
                     picture->head_moves, write);
    }));
  return member;
}

JsonMember left_out_json(const Measurement& measurement) {
  return {"left_out",
          objects_of(measurement.left_out,
                     [](const LeftOut& stretch, const JsonWriter& write) { visit_left_out(stretch, write); }),
          true};
}

std::string loudness_json(int take, const PowerCurve& loudness) {
  const std::vector<double> level_db(loudness.power_db.begin(), loudness.power_db.end());
  return json_object([&](const JsonWriter& write) { visit_loudness(take, loudness, level_db, write); });
}

/// A point each 50 ms of the smoothed curve, which has one each 10 ms.
std::string hold_curve_json(int at, const NamedHold& named) {
  constexpr std::size_t every = 5;
  std::vector<double> time_s, cents;
  for (std::size_t point = 0; point < named.hold.curve.size(); point += every) {
    time_s.push_back(named.hold.curve[point].time_s);
    cents.push_back(cents_between(named.target_hz, named.hold.curve[point].f0_hz));
  }
  return json_object([&](const JsonWriter& write) { visit_hold_curve(at, time_s, cents, write); });
}

JsonMember loudness_member(const Measurement& measurement) {
  JsonMember member{"loudness", {}, true};
  for (std::size_t take = 0; take < measurement.loudness.size(); ++take)
    member.texts.push_back(loudness_json(static_cast<int>(take), measurement.loudness[take]));
  return member;
}

JsonMember hold_curves_member(const Measurement& measurement) {
  JsonMember member{"hold_curves", {}, true};
  for (std::size_t hold = 0; hold < measurement.naming.holds.size(); ++hold)
    member.texts.push_back(hold_curve_json(static_cast<int>(hold), measurement.naming.holds[hold]));
  return member;
}

/// Null where no call is known.
JsonMember arguments_json(const Measurement& measurement) {
  const std::vector<std::string>& words = measurement.arguments;
  return {"arguments", {words.empty() ? "null" : json_text(words)}, false};
}

JsonMember one(const std::string& key, const std::string& text) { return {key, {text}, false}; }

/// An array of objects has a line for each: good to read, to search and to compare.
void append_lines(const JsonMember& member, std::string& json) {
  const bool has_lines = member.is_array && !member.texts.empty();
  json += has_lines ? fmt::format("[\n  {}]", fmt::join(member.texts, ",\n  ")) : value_of(member);
}

}  // namespace

std::vector<JsonMember> json_members(const Measurement& measurement, const std::string& program_version) {
  return {
      one("schema", json_text(std::string(measurement_schema))),
      one("program", json_object([&](const JsonWriter& write) { visit_program(program_version, write); })),
      {"takes",
       objects_of(measurement.takes, [](const TakeInfo& take, const JsonWriter& write) { visit_take(take, write); }),
       true},
      one("subject", json_object([](const JsonWriter& write) { visit_subject_texts(Subject{}, write); })),
      one("settings", settings_json(measurement)),
      {"holds", holds_json(measurement), true},
      {"notes", notes_json(measurement), true},
      one("compromise", compromise_json(measurement.compromise)),
      one("repeat_db", json_text(measurement.breath.repeat_db)),
      one("drift", drift_json(measurement.breath.drift, measurement.settings.air)),
      one("places", places_json(measurement.places)),
      one("agreement", agreement_json(measurement.agreement)),
      {"warnings",
       objects_of(measurement.warnings,
                  [](const Warning& warning, const JsonWriter& write) { visit_warning(warning, write); }),
       true}};
}

InstrumentWords words_of(const Naming& naming) {
  const Instrument& instrument = naming.instrument;
  InstrumentWords words{instrument.name,
                        instrument.kind,
                        spelt_for_programs(instrument.lowest_midi),
                        {},
                        naming.inferred,
                        instrument.stretch_cents_per_octave,
                        own_targets(instrument),
                        instrument.maker};
  for (const ScaleNote& note : instrument.scale) words.scale.push_back(spelt_for_programs(note.id.midi));
  return words;
}

std::string value_of(const JsonMember& member) {
  return member.is_array ? fmt::format("[{}]", fmt::join(member.texts, ",")) : member.texts.front();
}

std::string json_report(const Measurement& measurement, const std::string& program_version, Curves curves) {
  std::vector<JsonMember> members = json_members(measurement, program_version);
  members.push_back(figures_json(measurement));
  members.push_back(left_out_json(measurement));
  members.push_back(arguments_json(measurement));
  if (curves == Curves::written) {
    members.push_back(loudness_member(measurement));
    members.push_back(hold_curves_member(measurement));
  }
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
