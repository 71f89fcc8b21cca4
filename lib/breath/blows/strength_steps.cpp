// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/blows/strength_steps.hpp"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <numeric>

namespace windway {
namespace {

/// Weight, in holds, of the knowledge that repeats scatter as a cue's repeat_sd says.
constexpr double prior_holds = 4.0;

/// What is left of one note once its mean and its own slope are taken out.
struct NoteScatter {
  double sum_of_squares = 0;
  double degrees = 0;
};

/// Values of one note's holds by label. They must be about the note's mean.
struct LabelSums {
  std::array<double, most_strengths> holds{};
  std::array<double, most_strengths> sum{};
  double values_squared = 0;  ///< of all labels together
};

NoteSums<double> note_sums(const LabelSums& note, const Steps<double>& step) {
  NoteSums<double> sums;
  sums.values_squared = note.values_squared;
  // Steps are taken above the softest label here: so holds of one label have sums of exactly nothing whichever label it
  // is, and rounding does not choose among equals.
  std::size_t softest = 0;
  while (softest + 1 < step.size() && note.holds[softest] == 0) ++softest;
  double sum = 0;
  for (std::size_t label = softest; label < step.size(); ++label) {
    const double above = step[label] - step[softest];
    sums.holds += note.holds[label];
    sum += note.holds[label] * above;
    sums.steps_squared += note.holds[label] * above * above;
    sums.steps_by_values += note.sum[label] * above;
  }
  sums.steps_squared = std::max(0.0, sums.steps_squared - sum * (sum / sums.holds));
  return sums;
}

/// The cue's values in each group, by label.
std::vector<LabelSums> label_sums(const Cue& cue, const Groups& groups, const std::vector<int>& label) {
  std::vector<LabelSums> notes;
  for (const auto& holds : groups) {
    double mean = 0;
    for (std::size_t h : holds) mean += cue.value[h] / static_cast<double>(holds.size());
    LabelSums note;
    for (std::size_t h : holds) {
      const double value = cue.value[h] - mean;
      note.holds[static_cast<std::size_t>(label[h])] += 1.0;
      note.sum[static_cast<std::size_t>(label[h])] += value;
      note.values_squared += value * value;
    }
    notes.push_back(note);
  }
  return notes;
}

NoteScatter note_scatter(const NoteSums<double>& note, double variance, double variation) {
  const double pull = variation * variation * note.steps_squared / variance;
  const double shrink = pull / (1.0 + pull);
  const double own_slope = note.steps_squared > 0 ? note.steps_by_values / note.steps_squared : 1.0;
  const double slope = 1.0 + shrink * (own_slope - 1.0);
  const double sum = note.values_squared - slope * (2.0 * note.steps_by_values - slope * note.steps_squared);
  return {std::max(0.0, sum), note.holds - 1.0 - shrink};
}

std::vector<double> least_squares_steps(const std::vector<LabelSums>& notes, int strengths) {
  // A trace of ridge keeps a label that no note has at no step at all.
  Eigen::MatrixXd normal = 1e-9 * Eigen::MatrixXd::Identity(strengths - 1, strengths - 1);
  Eigen::VectorXd right = Eigen::VectorXd::Zero(strengths - 1);
  for (const LabelSums& note : notes) {
    // Each label's column is 1 where it stands, about the note's mean.
    const double all = std::accumulate(note.holds.begin(), note.holds.end(), 0.0);
    for (int a = 1; a < strengths; ++a) {
      const double of_a = note.holds[static_cast<std::size_t>(a)];
      normal(a - 1, a - 1) += of_a;
      for (int b = 1; b < strengths; ++b) normal(a - 1, b - 1) -= of_a * note.holds[static_cast<std::size_t>(b)] / all;
      right(a - 1) += note.sum[static_cast<std::size_t>(a)];
    }
  }
  const Eigen::VectorXd solved = normal.ldlt().solve(right);
  std::vector<double> step{0.0};
  // Harder is louder, noisier, brighter and sharper: a step in the other direction is taken as none.
  for (double s : solved) step.push_back(std::max(step.back(), s));
  return step;
}

}  // namespace

Groups groups_of(const std::vector<int>& group) {
  std::map<int, std::vector<std::size_t>> by_group;
  for (std::size_t h = 0; h < group.size(); ++h) by_group[group[h]].push_back(h);
  Groups groups;
  for (auto& [key, holds] : by_group) groups.push_back(std::move(holds));
  return groups;
}

Steps<double> steps_of(const CueSteps& steps) {
  Steps<double> all{};
  for (std::size_t label = 0; label < all.size(); ++label)
    all[label] = steps.step[std::min(label, steps.step.size() - 1)];
  return all;
}

CueSteps fit_cue_steps(const Cue& cue, const Groups& groups, const std::vector<int>& label, int strengths) {
  const std::vector<LabelSums> by_label = label_sums(cue, groups, label);
  CueSteps steps{least_squares_steps(by_label, strengths), cue.repeat_sd};
  std::vector<NoteSums<double>> notes;
  for (const LabelSums& note : by_label) notes.push_back(note_sums(note, steps_of(steps)));
  const double floor = cue.repeat_sd * cue.repeat_sd;
  double variance = floor;
  for (int pass = 0; pass < 3; ++pass) {  // the shrinkage of the slopes depends on the scatter
    double sum = prior_holds * floor;
    double degrees = prior_holds - (strengths - 1);
    for (const NoteSums<double>& note : notes) {
      const NoteScatter scatter = note_scatter(note, variance, cue.slope_variation);
      sum += scatter.sum_of_squares;
      degrees += scatter.degrees;
    }
    variance = std::max(floor, sum / std::max(1.0, degrees));
  }
  steps.residual_sd = std::sqrt(variance);
  return steps;
}

double log_scale(double holds, double variance) {
  return -0.5 * ((holds - 1.0) * std::log(2.0 * std::numbers::pi * variance) + std::log(holds));
}

}  // namespace windway
