// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/strength_steps.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>

namespace windway {
namespace {

/// Weight, in holds, of the knowledge that repeats scatter as a cue's repeat_sd says.
constexpr double prior_holds = 4.0;

/// What is left of one note once its mean and its own slope are taken out.
struct NoteScatter {
  double sum_of_squares = 0;
  double degrees = 0;
};

std::vector<double> centred(std::vector<double> values) {
  double mean = 0;
  for (double v : values) mean += v / static_cast<double>(values.size());
  for (double& v : values) v -= mean;
  return values;
}

double dot(const std::vector<double>& a, const std::vector<double>& b) {
  double sum = 0;
  for (std::size_t i = 0; i < a.size(); ++i) sum += a[i] * b[i];
  return sum;
}

std::vector<double> steps_at(const std::vector<int>& labels, const std::vector<double>& step) {
  std::vector<double> at;
  for (int label : labels) at.push_back(step[static_cast<std::size_t>(label)]);
  return at;
}

/// Values and labels of one group.
struct NoteValues {
  std::vector<double> value;
  std::vector<int> label;
};

NoteValues note_values(const Cue& cue, const std::vector<std::size_t>& holds, const std::vector<int>& label) {
  NoteValues note;
  for (std::size_t h : holds) {
    note.value.push_back(cue.value[h]);
    note.label.push_back(label[h]);
  }
  return note;
}

NoteScatter note_scatter(const NoteValues& note, const std::vector<double>& step, double variance, double variation) {
  const std::vector<double> u = centred(steps_at(note.label, step));
  const std::vector<double> v = centred(note.value);
  const double pull = variation * variation * dot(u, u) / variance;
  const double shrink = pull / (1.0 + pull);
  const double slope = dot(u, u) > 0 ? 1.0 + shrink * (dot(u, v) / dot(u, u) - 1.0) : 1.0;
  double sum = 0;
  for (std::size_t i = 0; i < v.size(); ++i) sum += std::pow(v[i] - slope * u[i], 2);
  return {sum, static_cast<double>(v.size()) - 1.0 - shrink};
}

std::vector<double> least_squares_steps(const Cue& cue, const Groups& groups, const std::vector<int>& label,
                                        int strengths) {
  // A trace of ridge keeps a label that no note has at no step at all.
  Eigen::MatrixXd normal = 1e-9 * Eigen::MatrixXd::Identity(strengths - 1, strengths - 1);
  Eigen::VectorXd right = Eigen::VectorXd::Zero(strengths - 1);
  for (const auto& holds : groups) {
    const NoteValues note = note_values(cue, holds, label);
    const std::vector<double> v = centred(note.value);
    Eigen::MatrixXd at = Eigen::MatrixXd::Zero(static_cast<Eigen::Index>(v.size()), strengths - 1);
    for (std::size_t i = 0; i < v.size(); ++i)
      if (note.label[i] > 0) at(static_cast<Eigen::Index>(i), note.label[i] - 1) = 1.0;
    at.rowwise() -= at.colwise().mean().eval();
    normal += at.transpose() * at;
    right += at.transpose() * Eigen::Map<const Eigen::VectorXd>(v.data(), static_cast<Eigen::Index>(v.size()));
  }
  const Eigen::VectorXd solved = normal.ldlt().solve(right);
  std::vector<double> step{0.0};
  // Harder is louder, noisier, brighter and sharper: a step that goes the other way is taken as none.
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

CueSteps fit_cue_steps(const Cue& cue, const Groups& groups, const std::vector<int>& label, int strengths) {
  CueSteps steps{least_squares_steps(cue, groups, label, strengths), cue.repeat_sd};
  const double floor = cue.repeat_sd * cue.repeat_sd;
  double variance = floor;
  for (int pass = 0; pass < 3; ++pass) {  // the shrinkage of the slopes depends on the scatter
    double sum = prior_holds * floor;
    double degrees = prior_holds - (strengths - 1);
    for (const auto& holds : groups) {
      const NoteScatter scatter =
          note_scatter(note_values(cue, holds, label), steps.step, variance, cue.slope_variation);
      sum += scatter.sum_of_squares;
      degrees += scatter.degrees;
    }
    variance = std::max(floor, sum / std::max(1.0, degrees));
  }
  steps.residual_sd = std::sqrt(variance);
  return steps;
}

double log_density(const std::vector<double>& values, const std::vector<int>& labels, const CueSteps& steps,
                   double slope_variation) {
  const double variance = steps.residual_sd * steps.residual_sd;
  const std::vector<double> u = centred(steps_at(labels, steps.step));
  std::vector<double> rest = centred(values);
  for (std::size_t i = 0; i < rest.size(); ++i) rest[i] -= u[i];
  const double pull = slope_variation * slope_variation / variance;
  const double stretch = 1.0 + pull * dot(u, u);
  const double along = dot(u, rest);
  const double squares = (dot(rest, rest) - pull * along * along / stretch) / variance;
  const double n = static_cast<double>(values.size());
  return -0.5 * ((n - 1.0) * std::log(2.0 * std::numbers::pi * variance) + std::log(n) + std::log(stretch) + squares);
}

}  // namespace windway
