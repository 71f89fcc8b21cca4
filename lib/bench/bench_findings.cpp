// SPDX-License-Identifier: GPL-3.0-or-later
#include "bench/bench_findings.hpp"

#include <algorithm>
#include <cmath>
#include <functional>

#include "manifest/recorded_cell.hpp"
#include "statistics/group_difference.hpp"
#include "statistics/robust_centre.hpp"
#include "statistics/straight_line.hpp"

namespace windway {
namespace {

/// One figure of those instruments that have it, in production order.
struct FigureSeries {
  std::vector<double> cents;
  MadeInOrder of;
};

std::map<NoteId, FigureSeries> series_by_note(const MadeInOrder& made) {
  std::map<NoteId, FigureSeries> all;
  for (const Produced* each : made)
    for (const ProducedNote& note : each->notes) {
      all[note.note].cents.push_back(note.left_cents);
      all[note.note].of.push_back(each);
    }
  return all;
}

void add_deviation(NamedDeviations& deviations, const std::string& name, double cents) {
  if (++deviations.count <= NamedDeviations::most_listed) deviations.listed.push_back({name, cents});
}

NamedDeviations beyond(double tolerance_cents, const FigureSeries& series) {
  std::vector<NamedDeviation> farthest;
  for (std::size_t i = 0; i < series.cents.size(); ++i)
    if (std::abs(series.cents[i]) > tolerance_cents) farthest.push_back({series.of[i]->name, series.cents[i]});
  std::ranges::stable_sort(farthest, std::greater{}, [](const NamedDeviation& each) { return std::abs(each.cents); });
  const std::size_t count = farthest.size();
  farthest.resize(std::min(count, NamedDeviations::most_listed));
  return {std::move(farthest), count};
}

void add_series(NoteFinding& finding, const FigureSeries& series) {
  if (finding.tolerance_cents) finding.beyond_tolerance = beyond(*finding.tolerance_cents, series);
  finding.chart = individuals_chart(series.cents);
  if (finding.chart)
    for (const std::size_t i : finding.chart->outside)
      add_deviation(finding.beyond_chart, series.of[i]->name, series.cents[i]);
  const auto centre = robust_centre(series.cents);
  for (std::size_t i = 0; centre && i < series.cents.size(); ++i) {
    if (!is_outlier(series.cents[i], *centre)) continue;
    add_deviation(finding.outliers, series.of[i]->name, series.cents[i]);
    const bool is_beyond = finding.tolerance_cents && std::abs(series.cents[i]) > *finding.tolerance_cents;
    if (!is_beyond) add_deviation(finding.outliers_within_tolerance, series.of[i]->name, series.cents[i]);
  }
}

void add_repeatability(NoteFinding& finding, const OneWaySums& sums) {
  finding.repeatability = repeatability_sd(sums);
  if (const auto components = one_way(sums)) finding.between_sd_cents = std::sqrt(components->between_variance);
}

void add_gauge(NoteFinding& finding, const std::vector<GaugeReading>& readings, BenchFindings& all) {
  const auto table = gauge_table(readings);
  if (!table) {
    all.why_no_gauge_study = why_no_gauge_table(readings);
    return;
  }
  finding.gauge = anova_study(gauge_anova(*table));
  finding.gauge_by_range = average_and_range_study(*table);
}

NoteFinding finding_of(const NoteId& note, const NoteTally& tally) {
  NoteFinding finding;
  finding.note = note;
  finding.register_number = tally.register_number;
  finding.left = tally.left;
  finding.sd_cents = sample_sd(tally.left);
  finding.share_5_cents = quantile(tally.sketch, 0.05);
  finding.share_25_cents = quantile(tally.sketch, 0.25);
  finding.median_cents = quantile(tally.sketch, 0.5);
  finding.share_75_cents = quantile(tally.sketch, 0.75);
  finding.share_95_cents = quantile(tally.sketch, 0.95);
  finding.tolerance_cents = tally.tolerance_cents;
  finding.spread = tally.spread;
  if (tally.tolerance_cents && finding.sd_cents) {
    finding.capability =
        capability(tally.left.mean, *finding.sd_cents, {-*tally.tolerance_cents, *tally.tolerance_cents});
  }
  return finding;
}

void add_notes(BenchFindings& all, const BenchTally& tally, const MadeInOrder& made) {
  const auto series = series_by_note(made);
  const auto sums = tally.repeatability.sums();
  const auto readings = tally.repeatability.readings();
  for (const auto& [note, found] : tally.notes) {
    NoteFinding finding = finding_of(note, found);
    if (const auto in_order = series.find(note); in_order != series.end()) add_series(finding, in_order->second);
    if (const auto repeated = sums.find(note); repeated != sums.end()) add_repeatability(finding, repeated->second);
    if (const auto read = readings.find(note); read != readings.end()) add_gauge(finding, read->second, all);
    all.notes.push_back(std::move(finding));
  }
  const bool has_gauge = std::ranges::any_of(all.notes, [](const NoteFinding& note) { return note.gauge.has_value(); });
  if (has_gauge) all.why_no_gauge_study.reset();
}

/// The moments of all groups but one.
Moments rest_of(const std::map<std::string, GroupTally>& groups, const std::string& name, const NoteId& note) {
  Moments rest;
  for (const auto& [other, tally] : groups) {
    const auto found = tally.left.find(note);
    if (other != name && found != tally.left.end()) rest = merged(rest, found->second);
  }
  return rest;
}

/// One note of one group, with what it is set against.
struct Comparison {
  GroupNote note;
  Moments group;
  Moments rest;
};

std::vector<Comparison> comparisons_of(const std::map<std::string, GroupTally>& groups, const std::string& name) {
  std::vector<Comparison> comparisons;
  for (const auto& [note, moments] : groups.at(name).left) {
    const Moments rest = rest_of(groups, name, note);
    if (const auto above = difference_of_means(moments, rest))
      comparisons.push_back({{note, *above, false}, moments, rest});
  }
  return comparisons;
}

void add_groups(BenchFindings& all, const std::map<std::string, GroupTally>& groups) {
  std::map<std::string, std::vector<Comparison>> by_group;
  for (const auto& [name, tally] : groups) {
    by_group[name] = comparisons_of(groups, name);
    all.comparisons += by_group[name].size();
  }
  for (const auto& [name, comparisons] : by_group) {
    GroupFinding& finding = all.groups.emplace_back(GroupFinding{name, groups.at(name).verdicts, {}});
    for (Comparison each : comparisons) {
      const auto allowed_for = difference_of_means(each.group, each.rest, all.comparisons);
      each.note.is_sure = std::abs(allowed_for->cents) > allowed_for->u95_cents;
      finding.notes.push_back(each.note);
    }
  }
}

/// Takes of one day are one subgroup: what varies within a day is not the measuring's drift.
void add_days(SeriesFinding& finding, const FigureSeries& series) {
  std::map<std::string, std::vector<double>> by_day;
  for (std::size_t i = 0; i < series.of.size(); ++i)
    if (const std::string day = day_of(series.of[i]->recorded_at); !day.empty()) by_day[day].push_back(series.cents[i]);
  std::vector<std::vector<double>> days;
  std::vector<std::string> dates;
  for (const auto& [date, of_day] : by_day) {
    dates.push_back(date);
    days.push_back(of_day);
  }
  finding.days = subgroup_chart(days);
  if (!finding.days) return;
  for (std::size_t day = 0; day < days.size(); ++day)
    finding.day_means.push_back({dates[day], moments_of(days[day]).mean});
  for (const std::size_t day : finding.days->means_outside)
    add_deviation(finding.days_beyond, dates[day], finding.day_means[day].cents);
}

std::string name_in_time(const Produced& made) {
  return made.recorded_at.empty() ? made.name : made.name + " " + made.recorded_at;
}

/// Of those whose home A4 is known.
std::optional<SeriesFinding> series_of(const MadeInOrder& made) {
  SeriesFinding finding;
  Moments home_hz;
  for (const Produced* each : made)
    if (each->home_a4_hz) add(home_hz, *each->home_a4_hz);
  if (home_hz.n == 0) return std::nullopt;
  FigureSeries series;
  for (const Produced* each : made) {
    if (!each->home_a4_hz) continue;
    series.cents.push_back(cents_between(home_hz.mean, *each->home_a4_hz));
    series.of.push_back(each);
  }
  finding.takes = series.cents.size();
  finding.mean_home_a4_hz = home_hz.mean;
  finding.chart = individuals_chart(series.cents);
  if (finding.chart)
    for (const std::size_t i : finding.chart->outside)
      add_deviation(finding.beyond_chart, name_in_time(*series.of[i]), series.cents[i]);
  finding.rise = rise_of(series.cents);
  add_days(finding, series);
  return finding;
}

/// Of notes that most instruments have: the degrees of the model that the bench makes, usual fingerings.
std::vector<PlaceOfNote> places_of(const BenchTally& tally) {
  std::vector<PlaceOfNote> places;
  for (const auto& [note, found] : tally.notes) {
    const bool is_common = 2 * found.left.n > tally.made.size() + tally.made.left_out();
    if (!is_common || !note.fingering.empty() || found.length_mm.n == 0) continue;
    places.push_back({.id = note,
                      .register_number = found.register_number,
                      .semitones_above_lowest = note.midi - tally.model->lowest_midi.value_or(note.midi),
                      .effective_length_mm = found.length_mm.mean});
  }
  return places;
}

std::optional<BenchAdvice> advice_for(const BenchTally& tally, const MadeInOrder& made) {
  if (!tally.model || !tally.model->lowest_midi || tally.models_differ) return std::nullopt;
  const std::vector<PlaceOfNote> places = places_of(tally);
  std::vector<InstrumentCents> instruments;
  for (const Produced* each : made) {
    InstrumentCents& cents = instruments.emplace_back();
    for (const PlaceOfNote& place : places) {
      const auto found = std::ranges::find(each->notes, place.id, &ProducedNote::note);
      cents.moderate_cents.push_back(found != each->notes.end() ? std::optional(found->moderate_cents) : std::nullopt);
    }
  }
  return bench_advice(places, instruments, tally.model->kind);
}

}  // namespace

BenchFindings findings_of(const BenchTally& tally) {
  BenchFindings findings;
  const MadeInOrder made = tally.made.in_order();
  add_notes(findings, tally, made);
  if (tally.groupings.size() == 1) add_groups(findings, tally.groups);
  findings.instruments = series_of(made);
  for (const auto& [serial, takes] : tally.keepers)
    if (auto series = series_of(takes.in_order())) findings.keepers.push_back({serial, *std::move(series)});
  findings.advice = advice_for(tally, made);
  if (tally.warmth.said_c.n == 0) findings.days_apart = days_apart(made);
  return findings;
}

}  // namespace windway
