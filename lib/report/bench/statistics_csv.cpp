// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>

#include "report/bench/bench_report.hpp"

namespace windway {
namespace {

/// One row: each part is null where the row is of something else, and its cells are empty.
struct StatisticsRow {
  const char* of = "";
  std::string name{};
  std::string day{};
  const VerdictCounts* verdicts = nullptr;
  const NoteFinding* note = nullptr;
  const GroupNote* group_note = nullptr;
  const SeriesFinding* series = nullptr;
  const double* day_mean_cents = nullptr;
};

/// Adds columns, whose cells are empty where their record is null.
struct Columns {
  CsvRecord& record;

  template <typename Value>
  void add(const char* name, const Value& value) const {
    record.emplace_back(name, csv_cell(value));
  }
  template <typename Record, typename ValueOf>
  void of(const Record* found, const char* name, ValueOf value_of) const {
    record.emplace_back(name, found != nullptr ? csv_cell(value_of(*found)) : CsvCell{});
  }
};

template <typename Record, typename Member>
std::optional<Member> part(const std::optional<Record>& record, Member Record::*member) {
  return record ? std::optional((*record).*member) : std::nullopt;
}

void add_verdicts(const StatisticsRow& row, const Columns& columns) {
  for (std::size_t result = 0; result < choice_words<VerdictResult>.size(); ++result)
    columns.of(row.verdicts, choice_words<VerdictResult>[result],
               [&](const VerdictCounts& counts) { return counts.by_result[result]; });
  columns.of(row.verdicts, "not_judged", [](const VerdictCounts& counts) { return counts.measured_only; });
}

/// What notes, series and days have alike.
void add_moments(const StatisticsRow& row, const Columns& columns) {
  const NoteFinding* note = row.note;
  std::optional<std::uint64_t> n;
  std::optional<double> mean;
  if (note != nullptr) {
    n = note->left.n;
    mean = note->left.mean;
  } else if (row.day_mean_cents != nullptr) {
    n = row.series->days->subgroup_size;
    mean = *row.day_mean_cents;
  } else if (row.series != nullptr) {
    n = row.series->takes;
  }
  columns.add("n", n);
  columns.add("mean_cents", mean);
  columns.of(note, "sd_cents", [](const NoteFinding& found) { return found.sd_cents; });
  columns.of(note, "min_cents", [](const NoteFinding& found) { return found.left.min; });
  columns.of(note, "max_cents", [](const NoteFinding& found) { return found.left.max; });
  columns.of(note, "share_5_cents", [](const NoteFinding& found) { return found.share_5_cents; });
  columns.of(note, "share_25_cents", [](const NoteFinding& found) { return found.share_25_cents; });
  columns.of(note, "median_cents", [](const NoteFinding& found) { return found.median_cents; });
  columns.of(note, "share_75_cents", [](const NoteFinding& found) { return found.share_75_cents; });
  columns.of(note, "share_95_cents", [](const NoteFinding& found) { return found.share_95_cents; });
}

void add_capability(const NoteFinding* note, const Columns& columns) {
  columns.of(note, "tolerance_cents", [](const NoteFinding& found) { return found.tolerance_cents; });
  columns.of(note, "cp", [](const NoteFinding& found) { return part(found.capability, &Capability::cp); });
  columns.of(note, "cpk", [](const NoteFinding& found) { return part(found.capability, &Capability::cpk); });
}

/// Of single instruments, of the keeper's takes, of a day's mean.
void add_chart(const StatisticsRow& row, const Columns& columns) {
  if (row.day_mean_cents != nullptr) {
    columns.add("chart_lower_cents", row.series->days->mean_lower);
    columns.add("chart_upper_cents", row.series->days->mean_upper);
    return;
  }
  std::optional<IndividualsChart> chart;
  if (row.note != nullptr) chart = row.note->chart;
  if (row.series != nullptr) chart = row.series->chart;
  columns.add("chart_lower_cents", part(chart, &IndividualsChart::lower));
  columns.add("chart_upper_cents", part(chart, &IndividualsChart::upper));
}

void add_repeatability(const NoteFinding* note, const Columns& columns) {
  columns.of(note, "spread_mean_cents", [](const NoteFinding& found) {
    return found.spread.n > 0 ? std::optional(found.spread.mean) : std::nullopt;
  });
  columns.of(note, "repeatability_sd_cents",
             [](const NoteFinding& found) { return part(found.repeatability, &RepeatabilitySd::sd); });
  columns.of(note, "between_sd_cents", [](const NoteFinding& found) { return found.between_sd_cents; });
}

void add_gauge(const NoteFinding* note, const Columns& columns) {
  const auto share = [&](const char* name, GaugeShare GaugeStudy::*source) {
    columns.of(note, name, [&](const NoteFinding& found) {
      return found.gauge ? std::optional(((*found.gauge).*source).sd) : std::nullopt;
    });
  };
  share("gauge_repeatability_sd_cents", &GaugeStudy::repeatability);
  share("gauge_reproducibility_sd_cents", &GaugeStudy::reproducibility);
  share("gauge_sd_cents", &GaugeStudy::gauge);
  share("gauge_instrument_sd_cents", &GaugeStudy::part);
  columns.of(note, "gauge_percent", [](const NoteFinding& found) {
    return found.gauge ? std::optional(found.gauge->gauge.percent) : std::nullopt;
  });
  columns.of(note, "distinct_categories",
             [](const NoteFinding& found) { return found.gauge ? found.gauge->distinct_categories : std::nullopt; });
}

void add_group(const GroupNote* note, const Columns& columns) {
  columns.of(note, "above_rest_cents", [](const GroupNote& found) { return found.above_rest.cents; });
  columns.of(note, "above_rest_u95_cents", [](const GroupNote& found) { return found.above_rest.u95_cents; });
  columns.of(note, "is_sure", [](const GroupNote& found) { return found.is_sure; });
}

/// Of a whole series, not of one of its days.
void add_series(const SeriesFinding* series, const Columns& columns) {
  columns.of(series, "mean_home_a4_hz", [](const SeriesFinding& found) { return found.mean_home_a4_hz; });
  columns.of(series, "rise_cents", [](const SeriesFinding& found) { return part(found.rise, &CentsEstimate::cents); });
  columns.of(series, "rise_u95_cents",
             [](const SeriesFinding& found) { return part(found.rise, &CentsEstimate::u95_cents); });
}

CsvRecord record_of(const StatisticsRow& row, const BenchTally& tally) {
  CsvRecord record;
  const Columns columns{record};
  std::optional<NoteId> id;
  if (row.note != nullptr) id = row.note->note;
  if (row.group_note != nullptr) id = row.group_note->note;
  columns.add("of", std::string(row.of));
  columns.add("name", row.name);
  columns.add("day", row.day);
  columns.add("note", id ? std::optional(spelt(*tally.model, *id)) : std::nullopt);
  columns.add("midi", id ? std::optional(id->midi) : std::nullopt);
  columns.of(row.note, "register", [](const NoteFinding& found) { return found.register_number; });
  add_verdicts(row, columns);
  add_moments(row, columns);
  add_capability(row.note, columns);
  add_chart(row, columns);
  add_repeatability(row.note, columns);
  add_gauge(row.note, columns);
  add_group(row.group_note, columns);
  add_series(row.day_mean_cents == nullptr ? row.series : nullptr, columns);
  return record;
}

std::vector<StatisticsRow> rows_of(const BenchTally& tally, const BenchFindings& findings) {
  std::vector<StatisticsRow> rows{{.of = "bench", .verdicts = &tally.verdicts}};
  for (const NoteFinding& note : findings.notes) rows.push_back({.of = "bench", .note = &note});
  for (const GroupFinding& group : findings.groups) {
    rows.push_back({.of = "group", .name = group.name, .verdicts = &group.verdicts});
    for (const GroupNote& note : group.notes) rows.push_back({.of = "group", .name = group.name, .group_note = &note});
  }
  for (const auto& [serial, series] : findings.keepers) {
    rows.push_back({.of = "keeper", .name = serial, .series = &series});
    for (const NamedDeviation& day : series.day_means)
      rows.push_back({.of = "day", .name = serial, .day = day.name, .series = &series, .day_mean_cents = &day.cents});
  }
  return rows;
}

}  // namespace

std::string bench_statistics_csv(const BenchTally& tally, const BenchFindings& findings, CsvForm form) {
  const std::vector<StatisticsRow> rows = rows_of(tally, findings);
  std::string csv = csv_header(record_of(rows.front(), tally), form);
  for (const StatisticsRow& row : rows) csv += csv_row(record_of(row, tally), form);
  return csv;
}

}  // namespace windway
