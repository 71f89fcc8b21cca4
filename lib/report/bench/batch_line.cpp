// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/bench/batch_line.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <vector>

#include "recording/digest.hpp"
#include "report/measurement/json.hpp"
#include "report/wording/fields.hpp"
#include "report/wording/spelling.hpp"
#include "report/wording/verdict_words.hpp"
#include "scale/instrument_toml.hpp"

namespace windway {
namespace {

using Json = nlohmann::ordered_json;

template <typename Value>
Json or_null(const std::optional<Value>& value) {
  return value ? Json(*value) : Json(nullptr);
}

Json number(const std::optional<double>& value) { return value ? Json(rounded(*value)) : Json(nullptr); }

std::string text_of(const Json& value) { return value.dump(-1, ' ', false, Json::error_handler_t::replace); }

Json subject_json(const Subject& subject) {
  Json other = Json::object();
  for (const auto& [column, content] : subject.other) other[column] = content;
  Json json;
  for (const auto& [name, text] : subject_texts) json[name] = or_null(subject.*text);
  json["retake"] = or_null(subject.retake);
  json["recorded_at"] = or_null(subject.recorded_at);
  json["remark"] = or_null(subject.remark);
  json["other"] = other;
  return json;
}

/// A place of the head is in mm, all else in cents.
Json judged_json(const Judged& judged, const Instrument& instrument) {
  const std::string unit = judged.criterion == Criterion::head_place ? "_mm" : "_cents";
  const std::string message = reason_in_words(judged, instrument);
  const auto further = judged.midi ? further_fingering(*judged.midi, judged.fingering, instrument) : std::nullopt;
  Json json{{"criterion", field_of(judged.criterion)},
            {"result", field_of(judged.result)},
            {"note", judged.midi ? Json(spelt_for_programs(*judged.midi)) : Json(nullptr)},
            {"midi", or_null(judged.midi)},
            {"fingering", or_null(further)}};
  json["value" + unit] = number(judged.value);
  json["u95" + unit] = judged.value ? number(judged.u95) : Json(nullptr);
  json["lower" + unit] = number(judged.lower);
  json["upper" + unit] = number(judged.upper);
  json["message"] = message.empty() ? Json(nullptr) : Json(message);
  return json;
}

Json verdict_json(const Verdict& verdict, const Instrument& instrument) {
  Json judged = Json::array();
  for (const Judged& each : verdict.judged) judged.push_back(judged_json(each, instrument));
  const auto& octave = verdict.octave;
  const auto& step = verdict.worst_step;
  return {{"result", field_of(verdict.result)},
          {"head_rests_mm", number(verdict.head_rests_mm)},
          {"head_rests_u95_mm", number(verdict.head_rests_u95_mm)},
          {"octave_cents", octave ? number(octave->wide.cents) : Json(nullptr)},
          {"octave_u95_cents", octave ? number(octave->wide.u95_cents) : Json(nullptr)},
          {"octave_pairs", octave ? octave->pairs : 0},
          {"evenness_cents", number(verdict.evenness_cents)},
          {"worst_step", step ? Json{{"from", spelt_for_programs(step->from_midi)},
                                     {"to", spelt_for_programs(step->to_midi)},
                                     {"wide_cents", number(step->wide_cents)}}
                              : Json(nullptr)},
          {"judged", judged}};
}

std::string counting_text(bool counts, int takes_of_subject) {
  return fmt::format(R"("counts":{},"takes_of_subject":{},"settings_key":)", counts, takes_of_subject);
}

/// What a batch says beside the measurement, by key.
std::vector<std::pair<std::string, std::string>> additions(const JudgedTake& take) {
  const std::string batch = "{" + counting_text(take.counts, take.takes_of_subject) + text_of(take.settings_key) + "}";
  const Json verdict = take.verdict ? verdict_json(*take.verdict, take.measurement.naming.instrument) : Json(nullptr);
  return {{"error", text_of(take.error.empty() ? Json(nullptr) : Json(take.error))},
          {"subject", text_of(subject_json(take.subject))},
          {"batch", batch},
          {"verdict", text_of(verdict)}};
}

/// The take as its file is known, where it could not be measured.
std::string take_alone(const JudgedTake& take) {
  return text_of(Json::array({{{"path", take.path},
                               {"sha256", take.sha256.empty() ? Json(nullptr) : Json(take.sha256)},
                               {"recorded_at", nullptr},
                               {"duration_s", nullptr},
                               {"sample_rate_hz", nullptr},
                               {"channels", nullptr},
                               {"channel_used", nullptr}}}));
}

}  // namespace

std::string batch_line(const JudgedTake& take, const std::string& program_version) {
  std::vector<JsonMember> members = json_members(take.measurement, program_version);
  const auto holds = std::ranges::find(members, "holds", &JsonMember::key);
  std::rotate(holds, holds + 1, members.end());
  std::string line;
  const auto add = [&line](const std::string& key, const std::string& value) {
    line += (line.empty() ? "{\"" : ",\"") + key + "\":" + value;
  };
  for (const JsonMember& member : members) {
    if (member.key == "subject") continue;
    const bool unread = member.key == "takes" && member.texts.empty();
    add(member.key, unread ? take_alone(take) : value_of(member));
    if (member.key != "program") continue;
    for (const auto& [key, value] : additions(take)) add(key, value);
  }
  return line + "}\n";
}

std::string path_as_written(const std::string& path) { return Json::parse(text_of(path)).get<std::string>(); }

std::string settings_key(const MeasureSettings& settings, const JudgeLimits& limits, const Subject& subject,
                         const std::string& program_version) {
  Measurement asked;
  asked.settings = settings;
  const auto members = json_members(asked, program_version);
  const InstrumentHint& hint = settings.instrument;
  Json order = Json::array();
  for (const PlayedNote& note : hint.order) order.push_back({note.midi, note.fingering});
  Json blows = Json::array();
  for (const Blow blow : settings.blows.order) blows.push_back(field_of(blow));
  const auto& range = limits.head_out_range_mm;
  const Json said{
      {"version", program_version},
      {"settings", value_of(*std::ranges::find(members, "settings", &JsonMember::key))},
      {"kind", hint.kind ? Json(kind_name(*hint.kind)) : Json(nullptr)},
      {"lowest", hint.lowest ? Json{hint.lowest->pitch_class, or_null(hint.lowest->octave)} : Json(nullptr)},
      {"instrument", hint.instrument ? Json(instrument_toml(*hint.instrument)) : Json(nullptr)},
      {"order", order},
      {"blows", blows},
      {"tolerance_cents", number(limits.tolerance_cents)},
      {"notes_have_their_own", limits.notes_have_their_own},
      {"max_spread_cents", number(limits.max_spread_cents)},
      {"max_octave_cents", number(limits.max_octave_cents)},
      {"head_out_range_mm", range ? Json{range->min_mm, range->max_mm} : Json(nullptr)},
      {"every_note", limits.every_note},
      {"subject", subject_json(subject)}};
  return sha256_of_text(text_of(said)).substr(0, 16);
}

std::string with_counting(std::string line, bool counts, int takes_of_subject) {
  // Within a JSON string every quote has a backslash before it: this can be found nowhere else.
  const std::string key = R"(,"batch":{)";
  const std::size_t begin = line.find(key);
  const std::string last = R"("settings_key":)";
  const std::size_t end = begin == std::string::npos ? begin : line.find(last, begin);
  if (end == std::string::npos) return line;
  const std::size_t from = begin + key.size();
  return line.replace(from, end + last.size() - from, counting_text(counts, takes_of_subject));
}

}  // namespace windway
