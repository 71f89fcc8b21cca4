// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <vector>

#include "verdict/common_errors.hpp"

namespace windway {

/// A degree of the model as the bench has it: the mean of its notes.
struct DegreeMean {
  double cents = 0.0;         ///< common error, any slide of the whole bench still in it
  double length_mm = 0.0;     ///< effective
  std::vector<double> share;  ///< of each note in it, by note
};

/// The slide of the whole bench that most degrees agree on.
struct DegreeBaseline {
  double slide_mm = 0.0;
  double scatter_cents = 0.0;       ///< SD of the degrees about it, those far out left aside
  double agreeing = 0.0;            ///< how many degrees that rests on: the sum of their weights
  double scatter_mm = 0.0;          ///< SD of slide_mm by that scatter
  std::vector<double> mm_per_cent;  ///< what a cent on each note does to slide_mm, by note
};

/// Of all degrees but the one left out (an index; beyond the last: none): what it is held against must not hang on
/// itself. At least three must be left. Weighted median first, then Tukey's bisquare about it.
DegreeBaseline degree_baseline(const std::vector<DegreeMean>& degrees, const CommonErrors& errors,
                               std::size_t left_out);

/// Variance of sum(gradient * cents) over the notes.
double variance_along(const std::vector<double>& gradient, const CommonErrors& errors);

}  // namespace windway
