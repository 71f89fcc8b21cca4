// SPDX-License-Identifier: GPL-3.0-or-later
#include <nlohmann/json.hpp>

#include "report/player/compare_report.hpp"
#include "report/wording/fields.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/spelling.hpp"

namespace windway {
namespace {

using Json = nlohmann::ordered_json;

Json number(const std::optional<double>& value) { return value ? Json(rounded(*value)) : Json(nullptr); }

std::optional<double> cents_of(const std::optional<CentsEstimate>& estimate) {
  return estimate ? std::optional(estimate->cents) : std::nullopt;
}
std::optional<double> u95_of(const std::optional<CentsEstimate>& estimate) {
  return estimate ? std::optional(estimate->u95_cents) : std::nullopt;
}

/// The figures of a note, for CSV and JSON alike.
std::vector<std::pair<const char*, std::optional<double>>> figures_of(const NoteChange& note) {
  return {{"before_cents", note.before.cents},
          {"before_u95_cents", note.before.u95_cents},
          {"after_cents", note.after.cents},
          {"after_u95_cents", note.after.u95_cents},
          {"change_cents", note.change.cents},
          {"change_u95_cents", note.change.u95_cents},
          {"predicted_cents", note.predicted_cents},
          {"spread_before_cents", cents_of(note.spread_before)},
          {"spread_after_cents", cents_of(note.spread_after)},
          {"spread_change_cents", cents_of(note.spread_change)},
          {"spread_change_u95_cents", u95_of(note.spread_change)},
          {"wander_before_cents", note.wander_before_cents},
          {"wander_after_cents", note.wander_after_cents}};
}

Json note_json(const NoteChange& note) {
  const auto fingering = further_fingering(note.note);
  Json json{{"note", spelt_for_programs(note.note.midi)},
            {"midi", note.note.midi},
            {"fingering", fingering ? Json(*fingering) : Json(nullptr)},
            {"is_real", note.is_real}};
  for (const auto& [name, value] : figures_of(note)) json[name] = number(value);
  return json;
}

Json move_json(const std::optional<MeasuredMove>& move) {
  if (!move) return nullptr;
  return {{"drawn_out_mm", number(move->drawn_out_mm)},
          {"slide_factor", number(move->factor.factor)},
          {"slide_factor_u95", number(move->factor.u95)},
          {"warming_cents", number(move->warming.cents)},
          {"warming_u95_cents", number(move->warming.u95_cents)},
          {"warming_told", move->warming_told},
          {"is_telling", move->is_telling}};
}

Json repeat_json(const std::optional<Repeat>& repeat) {
  if (!repeat) return nullptr;
  return {{"together_cents", number(repeat->together.cents)},
          {"together_u95_cents", number(repeat->together.u95_cents)},
          {"note_sd_cents", number(repeat->note_sd_cents)},
          {"note_u95_cents", number(repeat->note_u95_cents)},
          {"notes", repeat->notes}};
}

Json names(const std::vector<NoteId>& notes) {
  Json list = Json::array();
  for (const NoteId& note : notes) list.push_back(spelt_for_programs(note.midi));
  return list;
}

}  // namespace

std::string compare_csv(const Comparison& comparison, const Measurement& before) {
  std::string header = "note,midi,is_real";
  std::string rows;
  for (const auto& [name, value] : figures_of(NoteChange{})) header += std::string(",") + name;
  for (const NoteChange& note : comparison.notes) {
    rows += spelt_for_people(note.note, before) + "," + std::to_string(note.note.midi) + "," +
            (note.is_real ? "true" : "false");
    for (const auto& [name, value] : figures_of(note)) rows += "," + (value ? shortest(rounded(*value)) : "");
    rows += "\r\n";
  }
  return header + "\r\n" + rows;
}

std::string compare_json(const Comparison& comparison, const std::string& program_version) {
  Json notes = Json::array();
  for (const NoteChange& note : comparison.notes) notes.push_back(note_json(note));
  Json warnings = Json::array();
  for (const Warning& warning : comparison.warnings)
    warnings.push_back({{"code", text_of(warning.code)}, {"message", warning.message}});
  const Json json{{"schema", "windway.comparison.v1"},
                  {"program", {{"name", "windway"}, {"version", program_version}}},
                  {"notes", notes},
                  {"only_before", names(comparison.only_before)},
                  {"only_after", names(comparison.only_after)},
                  {"mean_change_cents", number(comparison.mean_change.cents)},
                  {"mean_change_u95_cents", number(comparison.mean_change.u95_cents)},
                  {"move", move_json(comparison.move)},
                  {"repeat", repeat_json(comparison.repeat)},
                  {"warnings", warnings}};
  return json.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace windway
