// SPDX-License-Identifier: GPL-3.0-or-later
#include <nlohmann/json.hpp>
#include <utility>

#include "report/player/partner_report.hpp"
#include "report/wording/fields.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/spelling.hpp"

namespace windway {
namespace {

using Json = nlohmann::ordered_json;
using Figure = std::optional<double>;

Json number(const Figure& value) { return value ? Json(rounded(*value)) : Json(nullptr); }

/// The figures of a note, for CSV and JSON alike.
std::vector<std::pair<const char*, Figure>> figures_of(const PartnerNote& note) {
  const auto& stiffness = note.inharmonicity;
  return {{"frequency_hz", note.frequency_hz},
          {"u95_cents", note.u95_cents},
          {"deviation_cents", note.deviation_cents},
          {"inharmonicity", stiffness ? Figure(stiffness->value) : std::nullopt},
          {"inharmonicity_u95", stiffness ? Figure(stiffness->u95) : std::nullopt},
          {"partials", note.partials},
          {"beat_hz", note.beat_hz},
          {"start_s", note.start_s},
          {"duration_s", note.duration_s}};
}

Json note_json(const PartnerNote& note) {
  Json json{{"note", spelt_for_programs(note.midi)}, {"midi", note.midi}};
  for (const auto& [name, value] : figures_of(note)) json[name] = number(value);
  json["partials"] = note.partials;
  json["counts"] = note.counts;
  return json;
}

Json temperament_json(const Temperament& temperament) {
  const auto& key = temperament.key_pitch_class;
  return {{"name", temperament_word(temperament.name)}, {"key", key ? Json(*key) : Json(nullptr)}};
}

}  // namespace

std::string partner_csv(const Partner& partner) {
  std::string header = "note,midi";
  for (const auto& [name, value] : figures_of(PartnerNote{})) header += std::string(",") + name;
  std::string rows;
  const int key = partner.temperament.key_pitch_class.value_or(0);
  for (const PartnerNote& note : partner.notes) {
    rows += note_name(note.midi, key, partner.note_names) + "," + std::to_string(note.midi);
    for (const auto& [name, value] : figures_of(note)) rows += "," + (value ? shortest(rounded(*value)) : "");
    rows += std::string(note.counts ? ",true," : ",false,") + shortest(rounded(partner.a4_hz)) + "," +
            shortest(rounded(partner.a4_u95_hz)) + "\r\n";
  }
  return header + ",counts,a4_hz,a4_u95_hz\r\n" + rows;
}

std::string partner_json(const Partner& partner, const std::string& program_version) {
  Json notes = Json::array();
  for (const PartnerNote& note : partner.notes) notes.push_back(note_json(note));
  Json warnings = Json::array();
  for (const Warning& warning : partner.warnings)
    warnings.push_back({{"code", text_of(warning.code)}, {"message", warning.message}});
  const Json json{{"schema", "windway.partner.v1"},
                  {"program", {{"name", "windway"}, {"version", program_version}}},
                  {"recording",
                   {{"path", partner.take.path},
                    {"sha256", partner.take.sha256},
                    {"duration_s", number(partner.take.duration_s)},
                    {"sample_rate_hz", number(partner.take.sample_rate_hz)},
                    {"channels", partner.take.channels},
                    {"channel_used", partner.take.channel_used}}},
                  {"a4_hz", number(partner.a4_hz)},
                  {"a4_u95_hz", number(partner.a4_u95_hz)},
                  {"temperament", temperament_json(partner.temperament)},
                  {"range", {{"lowest_midi", partner.lowest_midi}, {"highest_midi", partner.highest_midi}}},
                  {"scatter_cents", number(partner.scatter_cents)},
                  {"notes", notes},
                  {"warnings", warnings}};
  return json.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace windway
