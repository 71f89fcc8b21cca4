// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/response/loudness.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

#include "breath/blows/breath_strength.hpp"
#include "breath/blows/strength_steps.hpp"
#include "units/order_statistics.hpp"

namespace windway {
namespace {

constexpr double repeat_sd = 0.3;           ///< a repeat of one blow seldom agrees better, dB or cents (from memory)
constexpr double with_both_range_db = 1.5;  ///< by so much noise or colour must contradict alike levels
constexpr double clear_in_errors = 3.0;

CueSteps steps_of(const Naming& naming, const LabelledHolds& labelled, const Groups& groups, double Hold::*quantity) {
  Cue cue{{}, repeat_sd, 0.0};
  for (std::size_t h : labelled.hold) cue.value.push_back(naming.holds[h].hold.*quantity);
  return fit_cue_steps(cue, groups, labelled.label, labelled.strengths);
}

CueSteps pitch_steps(const Naming& naming, const LabelledHolds& labelled, const Groups& groups) {
  Cue cue{{}, repeat_sd, 0.0};
  for (std::size_t h : labelled.hold) cue.value.push_back(deviation_as_brought_cents(naming.holds[h]));
  return fit_cue_steps(cue, groups, labelled.label, labelled.strengths);
}

std::set<int> labels_of(const LabelledHolds& labelled, const std::vector<std::size_t>& holds) {
  std::set<int> labels;
  for (std::size_t i : holds) labels.insert(labelled.label[i]);
  return labels;
}

/// Steps common to the groups; halves where nobody blew the moderate.
LevelSteps level_steps(const CueSteps& fit, bool moderate_blown) {
  if (!moderate_blown) return {0.5 * fit.step.back(), 0.5 * fit.step.back()};
  const auto [lower, upper] = middle_strengths(static_cast<int>(fit.step.size()));
  const double moderate_db =
      0.5 * (fit.step[static_cast<std::size_t>(lower)] + fit.step[static_cast<std::size_t>(upper)]);
  return {moderate_db, fit.step.back() - moderate_db};
}

bool has_moderate(const std::set<int>& labels, int strengths) {
  const auto [lower, upper] = middle_strengths(strengths);
  return labels.contains(lower) && labels.contains(upper);
}

/// The groups of one note in which both soft and hard were blown.
std::map<NoteId, Groups> groups_with_soft_and_hard(const Naming& naming, const LabelledHolds& labelled,
                                                   const Groups& groups) {
  std::map<NoteId, Groups> by_note;
  for (const auto& holds : groups) {
    const std::set<int> labels = labels_of(labelled, holds);
    if (labels.contains(0) && labels.contains(labelled.strengths - 1))
      by_note[naming.holds[labelled.hold[holds.front()]].note].push_back(holds);
  }
  return by_note;
}

double drawn_towards(double common, double own, double own_variance) {
  const double trust = repeat_db * repeat_db / (repeat_db * repeat_db + own_variance);
  return common + trust * (own - common);
}

/// Whether soft and hard differ in a quantity beyond its scatter.
bool rises(const CueSteps& steps, const Groups& groups) {
  const double error = steps.residual_sd * std::sqrt(2.0 / static_cast<double>(groups.size()));
  return steps.step.back() > clear_in_errors * error;
}

/// The blows were surely unlike, by their sound and their pitch, and yet they are equally loud.
bool is_levelled(const Naming& naming, const LabelledHolds& labelled, const Groups& groups, const CueSteps& level) {
  if (level.step.back() >= repeat_db) return false;
  const CueSteps noise = steps_of(naming, labelled, groups, &Hold::noise_db),
                 colour = steps_of(naming, labelled, groups, &Hold::colour_db);
  const bool sound_rises = (noise.step.back() > with_both_range_db && rises(noise, groups)) ||
                           (colour.step.back() > with_both_range_db && rises(colour, groups));
  return sound_rises && rises(pitch_steps(naming, labelled, groups), groups);
}

/// Each note's steps in one quantity, drawn towards those common to the take.
std::map<NoteId, LevelSteps> steps_by_note(const Naming& naming, const LabelledHolds& labelled,
                                           const std::map<NoteId, Groups>& by_note, const CueSteps& common,
                                           double Hold::*quantity) {
  const std::set<int> all_labels(labelled.label.begin(), labelled.label.end());
  const LevelSteps shared = level_steps(common, has_moderate(all_labels, labelled.strengths));
  std::map<NoteId, LevelSteps> steps;
  for (const auto& [note, groups] : by_note) {
    bool moderate_here = false;
    for (const auto& holds : groups) moderate_here |= has_moderate(labels_of(labelled, holds), labelled.strengths);
    const LevelSteps own = level_steps(steps_of(naming, labelled, groups, quantity), moderate_here);
    const double variance = 2.0 * common.residual_sd * common.residual_sd / static_cast<double>(groups.size());
    steps[note] = {drawn_towards(shared.below_db, own.below_db, variance),
                   drawn_towards(shared.above_db, own.above_db, variance)};
  }
  return steps;
}

double median_step(const std::map<NoteId, LevelSteps>& steps, double LevelSteps::*part) {
  std::vector<double> values;
  for (const auto& [note, s] : steps) values.push_back(s.*part);
  return median_of(std::move(values)).value_or(0.0);
}

/// Log of the factor from one note's step to the median; a step within `as_good_db` of it is as good as it, and further
/// than double is not measured but guessed.
double log_factor(const std::map<NoteId, LevelSteps>& steps, const NoteId& note, double LevelSteps::*part,
                  double as_good_db) {
  const double own_db = steps.at(note).*part, median_db = median_step(steps, part);
  if (own_db <= 0 || median_db <= 0) return 0.0;
  const double short_db = median_db - own_db;
  const double timid_db = std::copysign(std::max(0.0, std::abs(short_db) - as_good_db), short_db);
  return std::log(std::clamp((own_db + timid_db) / own_db, 0.5, 2.0));
}

/// The nearer to 1 of the two factors; 1 where they contradict each other.
double agreed_factor(double log_by_level, double log_by_noise) {
  if (log_by_level * log_by_noise <= 0) return 1.0;
  return std::exp(std::abs(log_by_level) < std::abs(log_by_noise) ? log_by_level : log_by_noise);
}

double factor_to_median(const std::map<NoteId, LevelSteps>& level, const std::map<NoteId, LevelSteps>& noise,
                        const NoteId& note, double LevelSteps::*part) {
  return agreed_factor(log_factor(level, note, part, repeat_db), log_factor(noise, note, part, 0.0));
}

std::map<NoteId, StrengthFactors> factors_to_median(const std::map<NoteId, LevelSteps>& level,
                                                    const std::map<NoteId, LevelSteps>& noise) {
  std::map<NoteId, StrengthFactors> factors;
  for (const auto& [note, own] : level)
    factors[note] = {factor_to_median(level, noise, note, &LevelSteps::below_db),
                     factor_to_median(level, noise, note, &LevelSteps::above_db)};
  return factors;
}

}  // namespace

Loudness measure_loudness(const Naming& naming, const Blows& blows) {
  const LabelledHolds labelled = labelled_holds(naming, blows);
  const std::map<NoteId, Groups> by_note = groups_with_soft_and_hard(naming, labelled, groups_of(labelled.group));
  Loudness loudness;
  Groups with_both;
  for (const auto& [note, groups] : by_note) with_both.insert(with_both.end(), groups.begin(), groups.end());
  if (with_both.empty()) return loudness;
  const CueSteps level = steps_of(naming, labelled, with_both, &Hold::level_db);
  loudness.levelled = is_levelled(naming, labelled, with_both, level);
  if (loudness.levelled) return loudness;
  loudness.steps = steps_by_note(naming, labelled, by_note, level, &Hold::level_db);
  const CueSteps noise = steps_of(naming, labelled, with_both, &Hold::noise_db);
  loudness.to_median =
      factors_to_median(loudness.steps, steps_by_note(naming, labelled, by_note, noise, &Hold::noise_db));
  return loudness;
}

}  // namespace windway
