// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/bench_figures/production_series.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "manifest/recorded_cell.hpp"
#include "report/bench/notes_text.hpp"
#include "report/wording/figures.hpp"

namespace windway {
namespace {

constexpr std::size_t most_drawn = 300;
constexpr std::size_t most_keepers = 4;

/// The latest of those whose home A4 is known.
MadeInOrder latest_at_home(const Production& production) {
  MadeInOrder made = production.in_order();
  std::erase_if(made, [](const Produced* each) { return !each->home_a4_hz; });
  if (made.size() > most_drawn) made.erase(made.begin(), made.end() - most_drawn);
  return made;
}

/// When the first instrument drawn was recorded; empty where none is left out.
std::string start_of(const BenchFindings& findings, const MadeInOrder& drawn) {
  return findings.instruments && findings.instruments->takes > drawn.size() ? drawn.front()->recorded_at : "";
}

/// Of the keeper only what was recorded from `start` on.
MadeInOrder keeper_since(const Production& keeper, const std::string& start) {
  MadeInOrder made = latest_at_home(keeper);
  std::erase_if(made, [&](const Produced* each) { return each->recorded_at < start; });
  return made;
}

std::vector<SeriesPoint> points_of(const MadeInOrder& made, double mean_hz, const RecordedOrder& order) {
  std::vector<SeriesPoint> points;
  for (const Produced* each : made)
    points.push_back({order.share(each), cents_between(mean_hz, *each->home_a4_hz), each->name});
  return points;
}

/// A point a day, in the middle of its takes.
std::vector<SeriesPoint> day_points(const SeriesFinding& series, const MadeInOrder& made, const RecordedOrder& order) {
  std::vector<SeriesPoint> points;
  for (const NamedDeviation& day : series.day_means) {
    Moments shares;
    for (const Produced* each : made)
      if (day_of(each->recorded_at) == day.name) add(shares, order.share(each));
    if (shares.n > 0) points.push_back({shares.mean, day.cents, day.name});
  }
  return points;
}

std::string from_mean(const SeriesFinding& series, int places) {
  return fmt::format("Cents from their mean, A4 = {} Hz.", fixed(series.mean_home_a4_hz, places));
}

/// " The last 300 of 412 takes are drawn."; empty where all are.
std::string last_drawn(std::size_t drawn, std::size_t all, const char* what) {
  if (drawn == all) return "";
  return fmt::format(" The last {} of {}{} {} drawn.", drawn, all, what, drawn == 1 ? "is" : "are");
}

std::string instruments_sentence(const SeriesFinding& series, std::size_t drawn) {
  std::string words = from_mean(series, 1) + last_drawn(drawn, series.takes, "");
  if (series.beyond_chart.count > 0)
    words += " Farther from the mean than the others' scatter explains: " + named(series.beyond_chart) + ".";
  return words;
}

PanelSeries instruments_series(const SeriesFinding& series, const MadeInOrder& made, const RecordedOrder& order) {
  PanelSeries panel{"Home A4 of each instrument, with the head where it was",
                    instruments_sentence(series, made.size()),
                    points_of(made, series.mean_home_a4_hz, order),
                    std::nullopt,
                    170,
                    10};
  if (series.chart) panel.limits = Axis{series.chart->lower, series.chart->upper};
  return panel;
}

PanelSeries keeper_series(const KeeperFinding& keeper, const MadeInOrder& made, const RecordedOrder& order) {
  const SeriesFinding& series = keeper.series;
  const bool by_day = series.days && order.is_by_day();
  PanelSeries panel{"The bench's own flute " + keeper.serial,
                    from_mean(series, 2),
                    by_day ? day_points(series, made, order) : points_of(made, series.mean_home_a4_hz, order),
                    std::nullopt,
                    130,
                    1};
  panel.sentence +=
      by_day ? " A dot is the mean of a day." + last_drawn(panel.points.size(), series.day_means.size(), " days")
             : last_drawn(panel.points.size(), series.takes, " takes");
  if (by_day)
    panel.limits = Axis{series.days->mean_lower, series.days->mean_upper};
  else if (series.chart)
    panel.limits = Axis{series.chart->lower, series.chart->upper};
  return panel;
}

}  // namespace

ProductionSeries production_series(const BenchTally& tally, const BenchFindings& findings) {
  const MadeInOrder instruments = latest_at_home(tally.made);
  const std::string start = start_of(findings, instruments);
  const std::size_t keepers = std::min(findings.keepers.size(), most_keepers);
  std::vector<MadeInOrder> made{instruments};
  for (std::size_t at = 0; at < keepers; ++at)
    made.push_back(keeper_since(tally.keepers.at(findings.keepers[at].serial), start));
  const RecordedOrder order(made);
  ProductionSeries series{{}, order.days(), {}};
  if (findings.keepers.size() > most_keepers)
    series.left_out.push_back(
        fmt::format("Of {} keepers, the first {} are drawn.", findings.keepers.size(), most_keepers));
  if (findings.instruments && !instruments.empty())
    series.panels.push_back(instruments_series(*findings.instruments, instruments, order));
  for (std::size_t at = 0; at < keepers; ++at) {
    if (made[at + 1].empty())
      series.left_out.push_back("No take of the keeper " + findings.keepers[at].serial +
                                " is dated in the time that is drawn.");
    else
      series.panels.push_back(keeper_series(findings.keepers[at], made[at + 1], order));
  }
  return series;
}

}  // namespace windway
