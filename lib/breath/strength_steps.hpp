// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

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

/// Log density of one note's values of a cue, its offset unknown and its slope a normal variable about 1
/// (slope SD `slope_variation`): a closed Gaussian form. `values` and `labels` by hold of the note.
double log_density(const std::vector<double>& values, const std::vector<int>& labels, const CueSteps& steps,
                   double slope_variation);

}  // namespace windway
