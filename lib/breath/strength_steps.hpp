// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
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

NoteSums note_sums(const LabelSums& note, const std::vector<double>& step);

/// Density of one note's values of a cue, its offset unknown and its slope a normal variable about 1 (slope SD
/// `slope_variation`), a closed Gaussian form: its log is log_scale - (log(stretch) + squares) / 2. In parts, since of
/// many labellings of one note only the last two differ, and one logarithm does for the stretches of all cues.
struct LabelDensity {
  double stretch = 1;
  double squares = 0;
};

/// `variance` is that of one hold about its note and label.
LabelDensity label_density(const NoteSums& note, double variance, double slope_variation);
double log_scale(double holds, double variance);

}  // namespace windway
