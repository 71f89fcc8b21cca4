// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/bench_figures/bench_figures.hpp"
#include "report/page/marks.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/words.hpp"

namespace windway {
namespace {

constexpr double row_px = 24.0;
constexpr int most_ticks = 7;

std::string names_of(const HoleAdvice& degree, const BenchEntry& model) {
  std::string names;
  for (const RegisterCents& each : degree.by_register) names += (names.empty() ? "" : ", ") + spelt(model, each.id);
  return names;
}

std::string words_of(const HoleAdvice& degree) {
  return degree.is_sure ? deviation_in_words(degree.common.cents, degree.common.u95_cents) + " (" +
                              plus_minus(degree.common.u95_cents, places_deserved(degree.common.u95_cents, 1)) + ")"
                        : "nothing sure";
}

FigureRow row_of(const HoleAdvice& degree, const BenchEntry& model, const Axis& axis) {
  const auto& [cents, u95_cents] = degree.common;
  const double x = axis.percent(cents), middle_px = row_px / 2;
  const Markup drawn = grid_lines(axis, most_ticks, row_px) + upright(axis, 0, row_px, "zero") +
                       interval(axis, cents - u95_cents, cents + u95_cents, middle_px) +
                       (degree.is_sure ? dot(x, middle_px) : ring(x, middle_px, "reach"));
  const std::string said = fmt::format("{} cents ({}), {}", signed_fixed(cents, 1), plus_minus(u95_cents, 1),
                                       degree.is_sure ? "surely off" : "not surely off");
  return {names_of(degree, model), drawn, row_px, said, words_of(degree)};
}

Axis cents_axis(const BenchAdvice& advice) {
  constexpr double least_width_cents = 6;
  std::vector<double> ends;
  for (const HoleAdvice& degree : advice.degrees) {
    ends.push_back(degree.common.cents - degree.common.u95_cents);
    ends.push_back(degree.common.cents + degree.common.u95_cents);
  }
  return axis_over(ends, least_width_cents);
}

}  // namespace

RowsFigure shared_figure(const BenchAdvice& advice, const BenchEntry& model) {
  constexpr double key_px = 18;
  const Axis axis = cents_axis(advice);
  RowsFigure figure;
  figure.id = "shared";
  figure.title = "What the whole bench shares";
  figure.keys = {{dot(50, key_px / 2), 16, "surely off on the whole bench"},
                 {ring(50, key_px / 2, "reach"), 16, "not surely"},
                 {interval({0, 1}, 0.05, 0.95, key_px / 2), 30, "where it lies in 95 of 100 cases"}};
  figure.axis_name = "cents: − flat, + sharp";
  figure.axis = axis_row(axis, most_ticks);
  figure.row_name = "notes";
  figure.words_name = "common to all";
  figure.words_stay_on_phone = false;
  figure.has_wide_names = true;
  for (const HoleAdvice& degree : advice.degrees)
    if (!degree.by_register.empty()) figure.rows.push_back(row_of(degree, model, axis));
  return figure;
}

}  // namespace windway
