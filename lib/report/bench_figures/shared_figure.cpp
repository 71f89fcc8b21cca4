// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <vector>

#include "report/bench_figures/bench_figures.hpp"
#include "report/bench_figures/interval_row.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/words.hpp"

namespace windway {
namespace {

constexpr double shared_row_px = 24.0;

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
  const std::string said = fmt::format("{} cents ({}), {}", signed_fixed(cents, 1), plus_minus(u95_cents, 1),
                                       degree.is_sure ? "surely off" : "not surely off");
  return {names_of(degree, model), interval_picture(degree.common, degree.is_sure, axis, shared_row_px), shared_row_px,
          said, words_of(degree)};
}

Axis cents_axis(const BenchAdvice& advice) {
  std::vector<CentsEstimate> all;
  for (const HoleAdvice& degree : advice.degrees) all.push_back(degree.common);
  return axis_over_intervals(all);
}

}  // namespace

RowsFigure shared_figure(const BenchAdvice& advice, const BenchEntry& model) {
  const Axis axis = cents_axis(advice);
  RowsFigure figure;
  figure.id = "shared";
  figure.title = "What all instruments have in common";
  figure.keys = interval_keys("surely off", "where it is in 95 of 100 cases");
  figure.axis_name = "cents: − flat, + sharp";
  figure.axis = axis_row(axis, most_interval_ticks);
  figure.row_name = "notes";
  figure.words_name = "common to all";
  figure.words_stay_on_phone = false;
  figure.has_wide_names = true;
  for (const HoleAdvice& degree : advice.degrees)
    if (!degree.by_register.empty()) figure.rows.push_back(row_of(degree, model, axis));
  return figure;
}

}  // namespace windway
