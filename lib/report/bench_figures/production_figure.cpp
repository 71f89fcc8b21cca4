// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "manifest/recorded_cell.hpp"
#include "report/bench/notes_text.hpp"
#include "report/bench_figures/bench_figures.hpp"
#include "report/bench_figures/far_values.hpp"
#include "report/bench_figures/recorded_order.hpp"
#include "report/page/marks.hpp"
#include "report/page/typography.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/layout.hpp"
#include "statistics/robust_centre.hpp"
#include "units/count_in_words.hpp"

namespace windway {
namespace {

constexpr std::size_t most_drawn = 300;
constexpr std::size_t most_keepers = 4;
constexpr double dates_px = 20.0;  // below the picture of a panel
constexpr Axis along{-0.1, 1.0};   // room for the figures of the upright axis
const double left_percent = along.percent(0);

struct SeriesPoint {
  double share = 0;  ///< along x
  double cents = 0;
  std::string name;
};

/// What a panel draws: points in order, and how far they may lie from 0 by chance.
struct PanelSeries {
  std::string title;
  std::string sentence;
  std::vector<SeriesPoint> points;
  std::optional<Axis> limits;  ///< absent of too few
  double height_px = 150;
  double least_width_cents = 1;
};

/// The latest of those whose home A4 is known.
MadeInOrder latest_at_home(const Production& production) {
  MadeInOrder made = production.in_order();
  std::erase_if(made, [](const Produced* each) { return !each->home_a4_hz; });
  if (made.size() > most_drawn) made.erase(made.begin(), made.end() - most_drawn);
  return made;
}

/// Of the keeper only what was recorded while the instruments drawn were.
MadeInOrder keeper_since(const Production& keeper, const MadeInOrder& instruments) {
  MadeInOrder made = latest_at_home(keeper);
  if (instruments.size() == most_drawn)
    std::erase_if(made, [&](const Produced* each) { return each->recorded_at < instruments.front()->recorded_at; });
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

std::string instruments_sentence(const SeriesFinding& series, std::size_t drawn) {
  std::string words = from_mean(series, 1);
  if (series.takes > drawn) words += fmt::format(" The last {} of {} are drawn.", drawn, series.takes);
  if (series.beyond_chart.count > 0)
    words += " Farther from it than the others' scatter explains: " + named(series.beyond_chart) + ".";
  return words;
}

PanelSeries instruments_series(const SeriesFinding& series, const MadeInOrder& made, const RecordedOrder& order) {
  PanelSeries panel{"Home A4 of each instrument, the head as it stood",
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
                    from_mean(series, 2) + (by_day ? " A dot is the mean of a day." : ""),
                    by_day ? day_points(series, made, order) : points_of(made, series.mean_home_a4_hz, order),
                    std::nullopt,
                    130,
                    1};
  if (by_day)
    panel.limits = Axis{series.days->mean_lower, series.days->mean_upper};
  else if (series.chart)
    panel.limits = Axis{series.chart->lower, series.chart->upper};
  return panel;
}

/// The upright axis of a panel.
class Upright {
 public:
  explicit Upright(const PanelSeries& series) : height_px_(series.height_px - dates_px) {
    std::vector<double> all, usual, far;
    for (const SeriesPoint& point : series.points) all.push_back(point.cents);
    const auto centre = robust_centre(all);
    for (const double cents : all) (is_outlier(cents, *centre) ? far : usual).push_back(cents);
    if (series.limits) far.insert(far.end(), {series.limits->least, series.limits->most});
    axis_ = axis_with_far(std::move(usual), far, series.least_width_cents);
  }

  bool holds(double cents) const { return axis_.holds(cents); }

  double y_px(double cents) const { return height_px_ * (1 - axis_.percent(cents) / 100); }
  double height_px() const { return height_px_; }

  Markup drawn_lines() const {
    Markup lines;
    for (const double tick : ticks(axis_, most_ticks))
      lines += level(y_px(tick), tick == 0 ? "zero" : "grid", left_percent);
    return lines;
  }
  Markup drawn_figures() const {
    constexpr double below_px = 4.5, top_px = 10;
    Markup figures;
    for (const double tick : ticks(axis_, most_ticks))
      figures += label(0, std::max(y_px(tick) + below_px, top_px), tick_label(tick, tick_step(axis_, most_ticks)),
                       "start", "scale");
    return figures;
  }

 private:
  static constexpr int most_ticks = 5;
  double height_px_;
  Axis axis_;
};

bool is_beyond(const PanelSeries& series, const SeriesPoint& point) {
  return series.limits && !series.limits->holds(point.cents);
}

Markup limits_of(const PanelSeries& series, const Upright& scale) {
  if (!series.limits) return {};
  const double top_px = scale.y_px(series.limits->most), bottom_px = scale.y_px(series.limits->least);
  Markup drawn = zone(0, top_px, "beyond", left_percent) + zone(bottom_px, scale.height_px(), "beyond", left_percent);
  for (const double limit : {series.limits->most, series.limits->least})
    if (scale.holds(limit)) drawn += level(scale.y_px(limit), "limit", left_percent);
  return drawn;
}

/// Names of those beyond the limits that stand free of each other; the sentence above the panel has the others.
Markup names_of(const PanelSeries& series, const Upright& scale) {
  constexpr double name_percent = 28, name_px = 16, beside_px = 4.5;
  constexpr std::size_t most_names = 8, widest_name = 12;
  std::vector<Place> taken;
  Markup names;
  for (const SeriesPoint& point : series.points) {
    if (!is_beyond(series, point) || display_width(point.name) > widest_name || taken.size() == most_names) continue;
    const Place place{along.percent(point.share), scale.y_px(point.cents)};
    const bool is_free = std::ranges::none_of(taken, [&](const Place& other) {
      return std::abs(other.x_percent - place.x_percent) < name_percent && std::abs(other.y_px - place.y_px) < name_px;
    });
    if (!is_free) continue;
    taken.push_back(place);
    const bool is_right = place.x_percent < 60;
    names += label(place.x_percent + (is_right ? 2.5 : -2.5), place.y_px + beside_px, point.name,
                   is_right ? "start" : "end", "named");
  }
  return names;
}

Markup points_drawn(const PanelSeries& series, const Upright& scale) {
  constexpr std::size_t few = 60;
  std::vector<Place> places;
  Markup marks, crosses;
  for (const SeriesPoint& point : series.points) {
    const Place place{along.percent(point.share), scale.y_px(point.cents)};
    places.push_back(place);
    if (is_beyond(series, point))
      crosses += cross(place.x_percent, place.y_px);
    else
      marks +=
          series.points.size() > few ? speck(place.x_percent, place.y_px) : dot(place.x_percent, place.y_px, "reach");
  }
  return thread(places, scale.height_px()) + marks + crosses;
}

/// Dates below, as many as there is room for on a phone, none outside of the picture.
Markup dates_drawn(const std::vector<std::pair<double, std::string>>& days, double height_px) {
  constexpr std::size_t year_characters = 5;  // "2026-"
  constexpr double percent_a_character = 2.6, gap_percent = 5;
  if (days.empty()) return {};
  const bool one_year = days.front().second.substr(0, year_characters) == days.back().second.substr(0, year_characters);
  const std::size_t cut = one_year ? year_characters : 0;
  const double width = percent_a_character * static_cast<double>(days.front().second.size() - cut);
  Markup drawn;
  double free_from = 0;
  for (const auto& [share, day] : days) {
    const double x = along.percent(share);
    const bool is_at_end = x + width / 2 > 100, is_at_start = x - width / 2 < 0;
    const double begin = is_at_end ? x - width : std::max(0.0, x - width / 2);
    if (begin < free_from) continue;
    drawn += leaf("line", {{"class", "grid"},
                           {"x1", percent(x)},
                           {"x2", percent(x)},
                           {"y1", height_px - dates_px},
                           {"y2", height_px - dates_px + 4}}) +
             label(is_at_start ? begin : x, height_px - 3, day.substr(cut),
                   is_at_end     ? "end"
                   : is_at_start ? "start"
                                 : "middle",
                   "quiet");
    free_from = begin + width + gap_percent;
  }
  return drawn;
}

std::string said_of(const PanelSeries& series) {
  const auto [least, most] = std::ranges::minmax_element(series.points, {}, &SeriesPoint::cents);
  std::string words = fmt::format("{} from {} to {} cents", count_in_words(series.points.size(), "mark"),
                                  signed_fixed(least->cents, 2), signed_fixed(most->cents, 2));
  if (series.limits)
    words +=
        fmt::format("; limits {} and {}", signed_fixed(series.limits->least, 2), signed_fixed(series.limits->most, 2));
  return words;
}

FigurePanel panel_of(const PanelSeries& series, const RecordedOrder& order) {
  const Upright scale(series);
  const bool all_held =
      std::ranges::all_of(series.points, [&](const SeriesPoint& point) { return scale.holds(point.cents); });
  const Markup drawn = limits_of(series, scale) + scale.drawn_lines() + points_drawn(series, scale) +
                       scale.drawn_figures() + names_of(series, scale) + dates_drawn(order.days(), series.height_px);
  return {series.title, {series.sentence, all_held ? "" : edge_sentence}, drawn, series.height_px, said_of(series)};
}

std::vector<FigureKey> keys_of(const std::vector<PanelSeries>& all) {
  constexpr double key_px = 18;
  const auto has_limits = [](const PanelSeries& series) { return series.limits.has_value(); };
  const auto any_beyond = [](const PanelSeries& series) {
    return std::ranges::any_of(series.points, [&](const SeriesPoint& point) { return is_beyond(series, point); });
  };
  std::vector<FigureKey> keys{{dot(50, key_px / 2, "reach"), 16,
                               "an instrument, or a take of the bench's own flute, in the order of recording"},
                              {level(key_px / 2, "zero"), 24, "the mean"}};
  if (std::ranges::any_of(all, has_limits))
    keys.push_back({zone(0, key_px, "beyond"), 24, "beyond what the scatter explains"});
  if (std::ranges::any_of(all, any_beyond)) keys.push_back({cross(50, key_px / 2), 16, "so far out"});
  return keys;
}

}  // namespace

std::optional<PanelsFigure> production_figure(const BenchTally& tally, const BenchFindings& findings) {
  const MadeInOrder instruments = latest_at_home(tally.made);
  std::vector<MadeInOrder> made{instruments};
  for (std::size_t at = 0; at < std::min(findings.keepers.size(), most_keepers); ++at)
    made.push_back(keeper_since(tally.keepers.at(findings.keepers[at].serial), instruments));
  const RecordedOrder order(made);
  std::vector<PanelSeries> all;
  if (findings.instruments && !instruments.empty())
    all.push_back(instruments_series(*findings.instruments, instruments, order));
  for (std::size_t at = 1; at < made.size(); ++at)
    all.push_back(keeper_series(findings.keepers[at - 1], made[at], order));
  std::erase_if(all, [](const PanelSeries& series) { return series.points.empty(); });
  if (all.empty()) return std::nullopt;
  PanelsFigure figure{"production", "In the order of production", {}, keys_of(all), {}};
  if (findings.keepers.size() > most_keepers)
    figure.sentences.push_back(
        fmt::format("Of {} flutes of the bench's own the first {} are drawn.", findings.keepers.size(), most_keepers));
  for (const PanelSeries& series : all) figure.panels.push_back(panel_of(series, order));
  return figure;
}

}  // namespace windway
