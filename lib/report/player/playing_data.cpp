// SPDX-License-Identifier: GPL-3.0-or-later
#include <nlohmann/json.hpp>

#include "report/player/playing_report.hpp"
#include "report/wording/fields.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/spelling.hpp"

namespace windway {
namespace {

using Json = nlohmann::ordered_json;
using Figures = std::vector<std::pair<const char*, std::optional<double>>>;

Json number(const std::optional<double>& value) { return value ? Json(rounded(*value)) : Json(nullptr); }

std::optional<double> cents_of(const std::optional<CentsEstimate>& estimate) {
  return estimate ? std::optional(estimate->cents) : std::nullopt;
}
std::optional<double> u95_of(const std::optional<CentsEstimate>& estimate) {
  return estimate ? std::optional(estimate->u95_cents) : std::nullopt;
}

/// A note, and where the further move takes it.
struct Row {
  const PlayedPitch* note = nullptr;
  const MovedNote* moved = nullptr;
};

std::vector<Row> rows_of(const Playing& playing) {
  std::vector<Row> rows;
  std::size_t in_scale = 0;
  for (const PlayedPitch& note : playing.notes) {
    rows.push_back({&note, note.in_scale && playing.further ? &playing.further->notes[in_scale] : nullptr});
    in_scale += note.in_scale ? 1 : 0;
  }
  return rows;
}

/// The figures of a note, for CSV and JSON alike.
Figures figures_of(const PlayedPitch& note, const MovedNote* moved) {
  return {{"target_hz", note.target_hz},
          {"sounded_s", note.sounded_s},
          {"time_share", note.time_share},
          {"occurrences", note.occurrences},
          {"median_cents", note.median.cents},
          {"median_u95_cents", note.median.u95_cents},
          {"lower_quartile_cents", note.lower_quartile_cents},
          {"upper_quartile_cents", note.upper_quartile_cents},
          {"moderate_cents", note.moderate_cents},
          {"from_take_cents", cents_of(note.from_take)},
          {"from_take_u95_cents", u95_of(note.from_take)},
          {"moved_cents", moved ? std::optional(moved->cents) : std::nullopt},
          {"moved_u95_cents", moved ? std::optional(moved->u95_cents) : std::nullopt}};
}

Json note_json(const Row& row) {
  Json json{{"note", spelt_for_programs(row.note->midi)},
            {"midi", row.note->midi},
            {"register", row.note->register_number},
            {"in_scale", row.note->in_scale}};
  for (const auto& [name, value] : figures_of(*row.note, row.moved)) json[name] = number(value);
  json["occurrences"] = row.note->occurrences;
  return json;
}

Json register_json(const PlayedRegister& played) {
  return {{"register", played.register_number},
          {"sounded_s", number(played.sounded_s)},
          {"deviation_cents", number(played.deviation.cents)},
          {"deviation_u95_cents", number(played.deviation.u95_cents)},
          {"from_take_cents", number(cents_of(played.from_take))},
          {"from_take_u95_cents", number(u95_of(played.from_take))}};
}

Json further_json(const std::optional<Compromise>& further) {
  if (!further) return nullptr;
  return {{"slide_mm", number(further->slide_mm)},
          {"slide_u95_mm", number(further->slide_u95_mm)},
          {"slide_model_u95_mm", number(further->slide_model_u95_mm)},
          {"shift_cents", number(further->shift_cents)},
          {"shift_u95_cents", number(further->shift_u95_cents)},
          {"limit", further->limit ? Json(field_of(*further->limit)) : Json(nullptr)},
          {"home_a4_hz", number(further->home_a4_hz)}};
}

Json recording_json(const TakeInfo& take) {
  return {{"path", take.path},
          {"sha256", take.sha256},
          {"recorded_at", take.recorded_at ? Json(*take.recorded_at) : Json(nullptr)},
          {"duration_s", number(take.duration_s)}};
}

Json instrument_json(const Playing& playing) {
  return {{"kind", kind_name(playing.instrument.kind)},
          {"lowest", spelt_for_programs(playing.instrument.lowest_midi)},
          {"inferred", playing.inferred}};
}

template <typename Items, typename Write>
Json list_of(const Items& items, Write write) {
  Json list = Json::array();
  for (const auto& item : items) list.push_back(write(item));
  return list;
}

}  // namespace

std::string playing_csv(const Playing& playing) {
  std::string header = "note,midi,register,in_scale";
  for (const auto& [name, value] : figures_of(PlayedPitch{}, nullptr)) header += std::string(",") + name;
  std::string rows;
  for (const auto& [note, moved] : rows_of(playing)) {
    rows += spelt(note->midi, playing.instrument) + "," + std::to_string(note->midi) + "," +
            std::to_string(note->register_number) + "," + (note->in_scale ? "true" : "false");
    for (const auto& [name, value] : figures_of(*note, moved)) rows += "," + (value ? shortest(rounded(*value)) : "");
    rows += "\r\n";
  }
  return header + "\r\n" + rows;
}

std::string playing_json(const Playing& playing, const std::string& program_version) {
  const Json json{{"schema", "windway.playing.v1"},
                  {"program", {{"name", "windway"}, {"version", program_version}}},
                  {"recording", recording_json(playing.take)},
                  {"a4_hz", number(playing.settings.tuning.a4_hz)},
                  {"temperament", temperament_word(playing.settings.tuning.temperament.name)},
                  {"instrument", instrument_json(playing)},
                  {"sounded_s", number(playing.sounded_s)},
                  {"further_move", further_json(playing.further)},
                  {"registers", list_of(playing.registers, register_json)},
                  {"notes", list_of(rows_of(playing), note_json)},
                  {"warnings", list_of(playing.warnings, [](const Warning& warning) {
                     return Json{{"code", text_of(warning.code)}, {"message", warning.message}};
                   })}};
  return json.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace windway
