// SPDX-License-Identifier: GPL-3.0-or-later
#include <nlohmann/json.hpp>

#include "report/bench/history_report.hpp"
#include "report/wording/fields.hpp"
#include "report/wording/spelling.hpp"

namespace windway {
namespace {

using Json = nlohmann::ordered_json;

Json number(const std::optional<double>& value) { return value ? Json(rounded(*value)) : Json(nullptr); }
Json text(const std::optional<std::string>& value) { return value ? Json(*value) : Json(nullptr); }

Json take_json(const BenchEntry& take) {
  return {{"path", take.path},
          {"stage", text(take.subject.stage)},
          {"retake", take.subject.retake ? Json(*take.subject.retake) : Json(nullptr)},
          {"recorded_at", text(take.recorded_at)},
          {"remark", text(take.subject.remark)},
          {"counts", take.counts},
          {"verdict", take.result ? Json(field_of(*take.result)) : Json(nullptr)},
          {"error", take.error.empty() ? Json(nullptr) : Json(take.error)},
          {"home_a4_hz", number(take.home_a4_hz)},
          {"head_out_mm", number(take.head_out_mm)},
          {"head_rests_mm", number(take.head_rests_mm)},
          {"evenness_cents", number(take.evenness_cents)}};
}

Json note_json(const NoteStep& note) {
  const auto& spread = note.spread_change;
  Json json = which_note<Json>(note.note);
  json["change_cents"] = number(note.change.cents);
  json["change_u95_cents"] = number(note.change.u95_cents);
  json["is_real"] = note.is_real;
  json["spread_change_cents"] = spread ? number(spread->cents) : Json(nullptr);
  json["spread_change_u95_cents"] = spread ? number(spread->u95_cents) : Json(nullptr);
  return json;
}

Json step_json(const HistoryStep& step) {
  Json notes = Json::array();
  for (const NoteStep& note : step.notes) notes.push_back(note_json(note));
  return {
      {"before", step.before}, {"after", step.after}, {"head_allowed_for", step.head_allowed_for}, {"notes", notes}};
}

}  // namespace

std::string history_json(const History& history, const std::string& program_version) {
  Json takes = Json::array();
  for (const BenchEntry& take : history.takes) takes.push_back(take_json(take));
  Json steps = Json::array();
  for (const HistoryStep& step : history.steps) steps.push_back(step_json(step));
  const Json whole{{"schema", "windway.history.v1"},
                   {"program", {{"name", "windway"}, {"version", program_version}}},
                   {"serial", text(history.takes.front().subject.serial)},
                   {"takes", takes},
                   {"steps", steps}};
  return whole.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace windway
