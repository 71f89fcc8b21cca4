// SPDX-License-Identifier: GPL-3.0-or-later
#include <nlohmann/json.hpp>

#include "report/bench/advice_to_maker.hpp"
#include "report/bench/bench_report.hpp"
#include "report/wording/fields.hpp"
#include "report/wording/spelling.hpp"

namespace windway {
namespace {

using Json = nlohmann::ordered_json;

Json number(const std::optional<double>& value) { return value ? Json(rounded(*value)) : Json(nullptr); }

Json counts_json(const VerdictCounts& counts) {
  Json json;
  for (const VerdictResult result :
       {VerdictResult::pass, VerdictResult::fail, VerdictResult::too_close, VerdictResult::not_measured})
    json[field_of(result)] = counts.of(result);
  json["not_judged"] = counts.measured_only;
  return json;
}

Json moments_json(const Moments& moments, const std::string& unit) {
  const bool any = moments.n > 0;
  return {{"n", moments.n},
          {"mean" + unit, any ? number(moments.mean) : Json(nullptr)},
          {"sd" + unit, number(sample_sd(moments))},
          {"min" + unit, any ? number(moments.min) : Json(nullptr)},
          {"max" + unit, any ? number(moments.max) : Json(nullptr)}};
}

/// The first of them; how many there are stands beside it.
Json strays_json(const Strays& strays) {
  Json json = Json::array();
  for (const Stray& stray : strays.told) json.push_back({{"name", stray.name}, {"cents", number(stray.cents)}});
  return json;
}

Json chart_json(const std::optional<IndividualsChart>& chart, const Strays& beyond) {
  if (!chart) return nullptr;
  return {{"mean_cents", number(chart->mean)},   {"mean_moving_range_cents", number(chart->mean_moving_range)},
          {"lower_cents", number(chart->lower)}, {"upper_cents", number(chart->upper)},
          {"beyond_count", beyond.count},        {"beyond", strays_json(beyond)}};
}

Json gauge_json(const std::optional<GaugeStudy>& study) {
  if (!study) return nullptr;
  const auto& categories = study->distinct_categories;
  return {{"repeatability_sd_cents", number(study->repeatability.sd)},
          {"reproducibility_sd_cents", number(study->reproducibility.sd)},
          {"gauge_sd_cents", number(study->gauge.sd)},
          {"instrument_sd_cents", number(study->part.sd)},
          {"gauge_percent", number(study->gauge.percent)},
          {"distinct_categories", categories ? Json(*categories) : Json(nullptr)}};
}

Json repeat_json(const NoteFinding& note) {
  if (!note.repeatability) return nullptr;
  return {{"sd_cents", number(note.repeatability->sd)},
          {"lower_cents", number(note.repeatability->lower)},
          {"upper_cents", number(note.repeatability->upper)},
          {"degrees", note.repeatability->degrees},
          {"between_sd_cents", number(note.between_sd_cents)}};
}

Json note_json(const NoteFinding& note) {
  Json json = which_note<Json>(note.note);
  json["register"] = note.register_number;
  json["left"] = moments_json(note.left, "_cents");
  json["share_5_cents"] = number(note.share_5_cents);
  json["median_cents"] = number(note.median_cents);
  json["share_95_cents"] = number(note.share_95_cents);
  json["tolerance_cents"] = number(note.tolerance_cents);
  json["cp"] = note.capability ? number(note.capability->cp) : Json(nullptr);
  json["cpk"] = note.capability ? number(note.capability->cpk) : Json(nullptr);
  json["spread"] = moments_json(note.spread, "_cents");
  json["chart"] = chart_json(note.chart, note.beyond_chart);
  json["outlier_count"] = note.outliers.count;
  json["outliers"] = strays_json(note.outliers);
  json["repeatability"] = repeat_json(note);
  json["gauge_by_anova"] = gauge_json(note.gauge);
  json["gauge_by_range"] = gauge_json(note.gauge_by_range);
  return json;
}

Json group_json(const GroupFinding& group) {
  Json notes = Json::array();
  for (const GroupNote& note : group.notes) {
    Json json = which_note<Json>(note.note);
    json["above_rest_cents"] = number(note.above_rest.cents);
    json["above_rest_u95_cents"] = number(note.above_rest.u95_cents);
    notes.push_back(json);
  }
  return {{"name", group.name}, {"verdicts", counts_json(group.verdicts)}, {"notes", notes}};
}

Json days_json(const SeriesFinding& series) {
  if (!series.days) return nullptr;
  const SubgroupChart& days = *series.days;
  return {{"takes_a_day", days.subgroup_size},           {"sd_within_day_cents", number(days.sigma)},
          {"mean_lower_cents", number(days.mean_lower)}, {"mean_upper_cents", number(days.mean_upper)},
          {"sd_upper_cents", number(days.sd_upper)},     {"beyond_count", series.days_beyond.count},
          {"beyond", strays_json(series.days_beyond)}};
}

Json series_json(const std::optional<SeriesFinding>& series) {
  if (!series) return nullptr;
  const auto& rise = series->rise;
  return {{"takes", series->takes},
          {"mean_home_a4_hz", number(series->mean_home_a4_hz)},
          {"chart", chart_json(series->chart, series->beyond_chart)},
          {"days", days_json(*series)},
          {"rise_cents", rise ? number(rise->cents) : Json(nullptr)},
          {"rise_u95_cents", rise ? number(rise->u95_cents) : Json(nullptr)}};
}

Json degree_json(const HoleAdvice& degree, const BenchEntry& model) {
  Json registers = Json::array();
  for (const RegisterCents& each : degree.by_register)
    registers.push_back({{"note", spelt_for_programs(each.id.midi)},
                         {"midi", each.id.midi},
                         {"register", each.register_number},
                         {"common_cents", number(each.common.cents)},
                         {"common_u95_cents", number(each.common.u95_cents)}});
  return {{"degree_semitones", degree.degree_semitones},
          {"common_cents", number(degree.common.cents)},
          {"common_u95_cents", number(degree.common.u95_cents)},
          {"registers", registers},
          {"registers_disagree", degree.registers_disagree},
          {"is_sure", degree.is_sure},
          {"towards_window_mm", number(degree.move_mm)},
          {"towards_window_u95_mm", number(degree.move_u95_mm)},
          {"message",
           degree.is_sure && !degree.by_register.empty() ? Json(degree_in_words(degree, model)) : Json(nullptr)}};
}

Json advice_json(const BenchFindings& findings, const BenchTally& tally) {
  if (!findings.advice) return nullptr;
  Json degrees = Json::array();
  for (const HoleAdvice& degree : findings.advice->degrees) degrees.push_back(degree_json(degree, *tally.model));
  return {{"instruments", findings.advice->instruments},
          {"unobservable_slide_mm", number(findings.advice->unobservable_slide_mm)},
          {"baseline_sd_cents", number(findings.advice->baseline_sd_cents)},
          {"degrees", degrees}};
}

}  // namespace

std::string bench_statistics_json(const BenchTally& tally, const BenchFindings& findings,
                                  const std::string& program_version) {
  Json notes = Json::array();
  for (const NoteFinding& note : findings.notes) notes.push_back(note_json(note));
  Json groups = Json::array();
  for (const GroupFinding& group : findings.groups) groups.push_back(group_json(group));
  const Json whole{
      {"schema", "windway.summary.v1"},
      {"program", {{"name", "windway"}, {"version", program_version}}},
      {"takes", tally.takes},
      {"of_other_stages", tally.of_other_stages},
      {"overtaken", tally.overtaken},
      {"told_twice", tally.told_twice},
      {"verdicts", counts_json(tally.verdicts)},
      {"a4_hz", tally.model ? number(tally.model->a4_hz) : Json(nullptr)},
      {"head_rests", moments_json(tally.head_rests_mm, "_mm")},
      {"home_a4", moments_json(tally.home_a4_hz, "_hz")},
      {"octave", moments_json(tally.octave_cents, "_cents")},
      {"notes", notes},
      {"groups", groups},
      {"operators", tally.repeatability.operators()},
      {"why_no_gauge_study", findings.why_no_gauge_study ? Json(*findings.why_no_gauge_study) : Json(nullptr)},
      {"instruments", series_json(findings.instruments)},
      {"keeper", series_json(findings.keeper)},
      {"advice", advice_json(findings, tally)}};
  return whole.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace windway
