// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <algorithm>
#include <array>
#include <cstddef>
#include <vector>

#include "breath/strengths.hpp"

namespace windway {

/// Holds of each group, by their index in the problem.
using Groups = std::vector<std::vector<std::size_t>>;
Groups groups_of(const std::vector<int>& group);

/// The steps of one cue, common to all notes, and the scatter about them.
struct CueSteps {
  std::vector<double> step;  ///< by label, 0 for label 0, never falling
  double residual_sd = 0;
};

/// Least squares over notes with an offset each; absent labels keep the step below them.
CueSteps fit_cue_steps(const Cue& cue, const Groups& groups, const std::vector<int>& label, int strengths);

/// One note's values of a cue and the steps of their labels, both about the note's own mean: all that counts of them.
struct NoteSums {
  double holds = 0;
  double steps_squared = 0;
  double steps_by_values = 0;
  double values_squared = 0;
};

/// Values of one note's holds by label. They must be about the note's mean.
struct LabelSums {
  std::array<double, most_strengths> holds{};
  std::array<double, most_strengths> sum{};
  double values_squared = 0;  ///< of all labels together
};

/// Here to be inlined, as label_density is: asked for every labelling of every note.
inline NoteSums note_sums(const LabelSums& note, const std::vector<double>& step) {
  NoteSums sums{0, 0, 0, note.values_squared};
  // Steps are taken above the softest label here: so holds of one label have sums of exactly nothing whichever label it
  // is, and rounding does not choose among equals.
  std::size_t label = 0;
  while (label + 1 < step.size() && note.holds[label] == 0) ++label;
  const double softest = step[label];
  double sum = 0;
  for (; label < step.size(); ++label) {
    const double above = step[label] - softest;
    sums.holds += note.holds[label];
    sum += note.holds[label] * above;
    sums.steps_squared += note.holds[label] * above * above;
    sums.steps_by_values += note.sum[label] * above;
  }
  sums.steps_squared = std::max(0.0, sums.steps_squared - sum * sum / sums.holds);
  return sums;
}

/// Density of one note's values of a cue, its offset unknown and its slope a normal variable about 1 (slope SD
/// `slope_variation`), a closed Gaussian form: its log is log_scale - (log(stretch) + squares) / 2. In parts, since of
/// many labellings of one note only the last two differ, and one logarithm does for the stretches of all cues.
struct LabelDensity {
  double stretch = 1;
  double squares = 0;
};

/// `variance` is that of one hold about its note and label.
inline LabelDensity label_density(const NoteSums& note, double variance, double slope_variation) {
  const double pull = slope_variation * slope_variation / variance;
  const double stretch = 1.0 + pull * note.steps_squared;
  const double along = note.steps_by_values - note.steps_squared;  // of what the steps leave of the values
  const double rest_squared = note.values_squared - note.steps_by_values - along;
  return {stretch, (rest_squared - pull * along * along / stretch) / variance};
}

double log_scale(double holds, double variance);

}  // namespace windway
