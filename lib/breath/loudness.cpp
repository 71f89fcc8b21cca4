// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/loudness.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

#include "breath/strength_steps.hpp"

namespace windway {
namespace {

constexpr int strengths = 3;
constexpr double repeat_sd_db = 0.3;         ///< a repeat of one blow seldom agrees better (from memory)
constexpr double step_variation_db = 1.0;    ///< how much a player's steps differ from note to note (from memory)
constexpr double least_level_range_db = 1.0;  ///< with less from soft to hard the levels are alike
constexpr double telling_range_db = 1.5;      ///< by so much noise or colour must contradict alike levels

/// Whole blows with a strength, their label 0 soft, 1 moderate, 2 hard, grouped by note and take.
struct LabelledHolds {
  std::vector<std::size_t> hold;
  std::vector<int> label;
  std::vector<int> group;
};

LabelledHolds labelled_holds(const Naming& naming, const Blows& blows) {
  LabelledHolds labelled;
  std::map<std::pair<int, int>, int> number;
  for (std::size_t h = 0; h < naming.holds.size(); ++h) {
    if (!blows.used[h] || !blows.blow[h] || blows.blow[h] == Blow::swell) continue;
    labelled.hold.push_back(h);
    labelled.label.push_back(static_cast<int>(*blows.blow[h]));
    const std::pair key(naming.holds[h].midi, naming.holds[h].hold.take);
    labelled.group.push_back(number.try_emplace(key, static_cast<int>(number.size())).first->second);
  }
  return labelled;
}

template <typename Quantity>
CueSteps steps_of(const Naming& naming, const LabelledHolds& labelled, const Groups& groups, Quantity quantity) {
  Cue cue{{}, repeat_sd_db, 0.0};
  for (std::size_t h : labelled.hold) cue.value.push_back(naming.holds[h].hold.*quantity);
  return fit_cue_steps(cue, groups, labelled.label, strengths);
}

std::set<int> labels_of(const LabelledHolds& labelled, const std::vector<std::size_t>& holds) {
  std::set<int> labels;
  for (std::size_t i : holds) labels.insert(labelled.label[i]);
  return labels;
}

/// Steps common to the groups; halves where nobody blew the moderate.
LevelSteps level_steps(const CueSteps& fit, bool moderate_blown) {
  if (!moderate_blown) return {0.5 * fit.step[2], 0.5 * fit.step[2]};
  return {fit.step[1], fit.step[2] - fit.step[1]};
}

/// The groups of one note in which both soft and hard were blown.
std::map<int, Groups> telling_groups(const Naming& naming, const LabelledHolds& labelled, const Groups& groups) {
  std::map<int, Groups> by_note;
  for (const auto& holds : groups) {
    const std::set<int> labels = labels_of(labelled, holds);
    if (labels.contains(0) && labels.contains(2)) by_note[naming.holds[labelled.hold[holds.front()]].midi].push_back(holds);
  }
  return by_note;
}

double drawn_towards(double common, double own, double own_variance) {
  const double trust = step_variation_db * step_variation_db / (step_variation_db * step_variation_db + own_variance);
  return common + trust * (own - common);
}

bool is_levelled(const Naming& naming, const LabelledHolds& labelled, const Groups& groups, const CueSteps& level) {
  if (level.step[2] >= least_level_range_db) return false;
  const double noise_db = steps_of(naming, labelled, groups, &Hold::noise_db).step[2];
  const double colour_db = steps_of(naming, labelled, groups, &Hold::colour_db).step[2];
  return std::max(noise_db, colour_db) > telling_range_db;
}

}  // namespace

Loudness measure_loudness(const Naming& naming, const Blows& blows) {
  const LabelledHolds labelled = labelled_holds(naming, blows);
  const std::map<int, Groups> by_note = telling_groups(naming, labelled, groups_of(labelled.group));
  Loudness loudness;
  Groups telling;
  for (const auto& [midi, groups] : by_note) telling.insert(telling.end(), groups.begin(), groups.end());
  if (telling.empty()) return loudness;
  const CueSteps common = steps_of(naming, labelled, telling, &Hold::level_db);
  loudness.levelled = is_levelled(naming, labelled, telling, common);
  if (loudness.levelled) return loudness;
  const bool moderate_blown = std::count(labelled.label.begin(), labelled.label.end(), 1) > 0;
  const LevelSteps shared = level_steps(common, moderate_blown);
  for (const auto& [midi, groups] : by_note) {
    bool moderate_here = false;
    for (const auto& holds : groups) moderate_here |= labels_of(labelled, holds).contains(1);
    const LevelSteps own = level_steps(steps_of(naming, labelled, groups, &Hold::level_db), moderate_here);
    const double variance = 2.0 * common.residual_sd * common.residual_sd / static_cast<double>(groups.size());
    loudness.steps[midi] = {drawn_towards(shared.below_db, own.below_db, variance),
                            drawn_towards(shared.above_db, own.above_db, variance)};
  }
  return loudness;
}

}  // namespace windway
