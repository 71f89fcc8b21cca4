// SPDX-License-Identifier: GPL-3.0-or-later
#include "scale/fitting.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numeric>
#include <tuple>
#include <utility>

namespace windway {
namespace {

constexpr double grid_step_cents = 7.5;  // inside the width of a moderate blow's pitch
constexpr double flute_offset_sd_cents = 20;
constexpr double take_offset_sd_cents = 15;  // warming, or a whole take blown softly
constexpr int refinements = 4;

using NoteCents = std::array<double, midi_keys>;

double normal_log(double cents, double sd_cents) { return -0.5 * (cents / sd_cents) * (cents / sd_cents); }

/// Index of each take's best offset when the flute as a whole lies `flute_cents` off, and the sum of their scores.
std::pair<double, std::vector<std::size_t>> offsets_round(double flute_cents, const std::vector<double>& grid,
                                                          const std::vector<std::vector<NotePath>>& paths) {
  double total = normal_log(flute_cents, flute_offset_sd_cents);
  std::vector<std::size_t> chosen;
  for (const std::vector<NotePath>& by_offset : paths) {
    double best = -std::numeric_limits<double>::infinity();
    chosen.push_back(0);
    for (std::size_t i = 0; i < grid.size(); ++i) {
      const double score = by_offset[i].log_score + normal_log(grid[i] - flute_cents, take_offset_sd_cents);
      if (score <= best) continue;
      best = score;
      chosen.back() = i;
    }
    total += best;
  }
  return {total, chosen};
}

/// The most that each take can add to a score, at whatever offset.
std::vector<double> most_of_takes(const OffsetGrid& grid) {
  std::vector<double> most;
  for (const auto& by_offset : grid.most_from) {
    most.push_back(-std::numeric_limits<double>::infinity());
    for (const std::vector<double>& from_hold : by_offset) most.back() = std::max(most.back(), from_hold.front());
  }
  return most;
}

std::vector<int> all_notes(const std::vector<std::vector<int>>& by_take) {
  std::vector<int> all;
  for (const auto& midi : by_take) all.insert(all.end(), midi.begin(), midi.end());
  return all;
}

/// How far each note lies off for all its holds together, drawn in towards 0 where they are few.
NoteCents note_errors(const std::vector<HeardTake>& takes, const ScaleFit& fit) {
  constexpr double note_variance = 10.0 * 10.0;  // cents^2: how well a note is made
  constexpr double blow_variance = 15.0 * 15.0;  // cents^2: how far a blow bends it
  NoteCents sum{}, count{};
  for (std::size_t t = 0; t < takes.size(); ++t)
    for (std::size_t i = 0; i < takes[t].size(); ++i) {
      const auto key = static_cast<std::size_t>(fit.midi[t][i]);
      sum[key] += 100.0 * (takes[t][i].pitch - fit.midi[t][i]) - fit.offset_cents[t];
      count[key] += 1;
    }
  for (std::size_t key = 0; key < sum.size(); ++key)
    sum[key] *= note_variance / (count[key] * note_variance + blow_variance);
  return sum;
}

}  // namespace

OffsetGrid offset_grid(const std::vector<HeardTake>& takes, double furthest_cents) {
  OffsetGrid grid{furthest_cents, {}, {}};
  const int steps = static_cast<int>(std::floor(furthest_cents / grid_step_cents));
  for (int i = -steps; i <= steps; ++i) grid.cents.push_back(i * grid_step_cents);
  for (const HeardTake& take : takes) {
    grid.most_from.emplace_back();
    for (const double cents : grid.cents) grid.most_from.back().push_back(most_from_hold(take, cents));
  }
  return grid;
}

std::optional<ScaleFit> fit_scale(const std::vector<HeardTake>& takes, const ScaleModel& model, const OffsetGrid& grid,
                                  double least_log_score) {
  const NotePaths note_paths(takes, model, grid.furthest_cents);
  const std::vector<double> most = most_of_takes(grid);
  // What else a score is made of, the offsets' and the scale's coverage, only lowers it.
  const double most_of_all = std::accumulate(most.begin(), most.end(), model.log_prior);
  std::vector<std::vector<NotePath>> paths(takes.size());
  for (std::size_t t = 0; t < takes.size(); ++t)
    for (std::size_t i = 0; i < grid.cents.size(); ++i) {
      const double least = least_log_score - (most_of_all - most[t]);
      paths[t].push_back(note_paths.best_from(t, {.offset_cents = grid.cents[i]}, least, grid.most_from[t][i])
                             .value_or(NotePath{-std::numeric_limits<double>::infinity(), {}}));
    }
  double best = -std::numeric_limits<double>::infinity();
  std::vector<std::size_t> chosen;
  for (const double flute_cents : grid.cents) {
    auto [score, offsets] = offsets_round(flute_cents, grid.cents, paths);
    if (score > best) std::tie(best, chosen) = std::pair(score, std::move(offsets));
  }
  if (chosen.empty()) return std::nullopt;
  ScaleFit fit;
  for (std::size_t t = 0; t < takes.size(); ++t) {
    fit.offset_cents.push_back(grid.cents[chosen[t]]);
    fit.midi.push_back(paths[t][chosen[t]].midi);
  }
  fit.log_score = best + model.log_prior + coverage_log_prior(model, all_notes(fit.midi));
  if (fit.log_score < least_log_score) return std::nullopt;
  return fit;
}

ScaleFit refine_fit(const std::vector<HeardTake>& takes, const ScaleModel& model, const ScaleFit& fit) {
  ScaleFit refined = fit;
  double furthest_offset_cents = 0;
  for (const double cents : fit.offset_cents) furthest_offset_cents = std::max(furthest_offset_cents, std::abs(cents));
  const NotePaths note_paths(takes, model, furthest_offset_cents);
  for (int round = 0; round < refinements; ++round) {
    const NoteCents note_cents = note_errors(takes, refined);
    const auto before = refined.midi;
    for (std::size_t t = 0; t < takes.size(); ++t)
      refined.midi[t] = note_paths
                            .best(t, {.offset_cents = refined.offset_cents[t],
                                      .note_cents = note_cents,
                                      .repeats = repeats_in(before[t])})
                            .midi;
    if (refined.midi == before) break;
  }
  return refined;
}

}  // namespace windway
