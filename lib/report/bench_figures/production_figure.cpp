// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "report/bench_figures/bench_figures.hpp"
#include "report/bench_figures/far_values.hpp"
#include "report/bench_figures/production_series.hpp"
#include "report/page/marks.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/layout.hpp"
#include "statistics/robust_centre.hpp"
#include "units/count_in_words.hpp"

namespace windway {
namespace {

constexpr double dates_px = 20.0;  // below the picture of a panel
constexpr Axis along{-0.1, 1.0};   // room for the figures of the upright axis
const double left_percent = along.percent(0);

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
Markup dates_drawn(const std::vector<DayBegin>& days, double height_px) {
  constexpr std::size_t year_characters = 5;   // "2026-"
  constexpr double percent_a_character = 2.6;  // 8.5 px of a phone's 328: a digit of a wide font has 8.3
  constexpr double gap_percent = 5;
  if (days.empty()) return {};
  const bool one_year = days.front().date.substr(0, year_characters) == days.back().date.substr(0, year_characters);
  const std::size_t cut = one_year ? year_characters : 0;
  const double width = percent_a_character * static_cast<double>(days.front().date.size() - cut);
  Markup drawn;
  double free_from = 0;
  for (const auto& [share, date] : days) {
    const double x = along.percent(share);
    const bool is_at_end = x + width / 2 > 100, is_at_start = x - width / 2 < 0;
    const double begin = is_at_end ? x - width : std::max(0.0, x - width / 2);
    if (begin < free_from) continue;
    drawn += leaf("line", {{"class", "grid"},
                           {"x1", percent(x)},
                           {"x2", percent(x)},
                           {"y1", height_px - dates_px},
                           {"y2", height_px - dates_px + 4}}) +
             label(is_at_start ? begin : x, height_px - 3, date.substr(cut),
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

FigurePanel panel_of(const PanelSeries& series, const std::vector<DayBegin>& days) {
  const Upright scale(series);
  const bool all_held =
      std::ranges::all_of(series.points, [&](const SeriesPoint& point) { return scale.holds(point.cents); });
  const Markup drawn = limits_of(series, scale) + scale.drawn_lines() + points_drawn(series, scale) +
                       scale.drawn_figures() + names_of(series, scale) + dates_drawn(days, series.height_px);
  return {series.title, {series.sentence, all_held ? "" : edge_sentence}, drawn, series.height_px, said_of(series)};
}

std::vector<FigureKey> keys_of(const std::vector<PanelSeries>& all) {
  const auto has_limits = [](const PanelSeries& series) { return series.limits.has_value(); };
  const auto any_beyond = [](const PanelSeries& series) {
    return std::ranges::any_of(series.points, [&](const SeriesPoint& point) { return is_beyond(series, point); });
  };
  std::vector<FigureKey> keys{
      dot_key("reach", "an instrument, or a take of the bench's own flute, in the order of recording"),
      {level(key_middle_px, "zero"), 24, "the mean"}};
  if (std::ranges::any_of(all, has_limits)) keys.push_back(band_key("beyond", "beyond what the scatter explains"));
  if (std::ranges::any_of(all, any_beyond)) keys.push_back(cross_key("a value beyond that"));
  return keys;
}

}  // namespace

std::optional<PanelsFigure> production_figure(const BenchTally& tally, const BenchFindings& findings) {
  const ProductionSeries production = production_series(tally, findings);
  if (production.panels.empty()) return std::nullopt;
  PanelsFigure figure{"production", "In the order of production", production.left_out, keys_of(production.panels), {}};
  for (const PanelSeries& series : production.panels) figure.panels.push_back(panel_of(series, production.days));
  return figure;
}

}  // namespace windway
