// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <algorithm>
#include <array>
#include <cstddef>
#include <vector>

#include "breath/blows/strengths.hpp"

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
/// `Number` is double, or holds one for each of several cues.
template <class Number>
struct NoteSums {
  double holds = 0;
  Number steps_squared{};
  Number steps_by_values{};
  Number values_squared{};
};

/// The steps of a cue by label; labels that are not there have the step below them.
template <class Number>
using Steps = std::array<Number, most_strengths>;
Steps<double> steps_of(const CueSteps& steps);

/// Density of one note's values of a cue, its offset unknown and its slope a normal variable about 1, a closed Gaussian
/// form: its log is log_scale - (log(stretch) + squares) / 2. In parts, since of many labellings of one note only the
/// last two differ, and one logarithm does for the stretches of all cues.
template <class Number>
struct LabelDensity {
  Number stretch{};
  Number squares{};
};

/// Here to be inlined: asked for every labelling of every note. `precision` is one over the variance of a hold about
/// its note and label, `pull` that times the slope's variance.
template <class Number>
LabelDensity<Number> label_density(const NoteSums<Number>& note, const Number& precision, const Number& pull) {
  const Number stretch = 1.0 + pull * note.steps_squared;
  const Number along = note.steps_by_values - note.steps_squared;  // of what the steps leave of the values
  const Number rest_squared = note.values_squared - note.steps_by_values - along;
  return {stretch, (rest_squared - pull * along * along / stretch) * precision};
}

double log_scale(double holds, double variance);

}  // namespace windway
