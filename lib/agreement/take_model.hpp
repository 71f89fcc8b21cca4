// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

namespace windway {

/// One note in one take.
struct TakeCell {
  std::size_t take = 0;
  std::size_t note = 0;
  double cents = 0;
  double variance_cents2 = 0;
};

/// A normal prior.
struct Prior {
  double mean = 0;
  double sd = 0;
};

/// How the notes of several takes hang together, e being normal with the cell's variance:
///
///     cents = the note's own + sum over patterns (effect(pattern, take) pattern(note)) + factor foretold(cell) + e
///
/// Warmth has the pattern 1 for each note, a move of the head the cents that a mm makes of it.
struct TakeModel {
  std::size_t takes = 0;
  std::size_t notes = 0;
  std::vector<std::vector<double>> patterns;  ///< by pattern, by note
  std::optional<double> effect_sd;     ///< prior of every effect, about 0; absent: the first take's effects are 0
  std::vector<double> foretold_cents;  ///< by cell; empty: there is no factor
  std::optional<Prior> factor_prior;
};

/// What the weighted squares and their degrees of freedom fall by where a note is left out.
struct NoteShare {
  double squares = 0;
  double degrees = 0;
};

struct TakeFit {
  std::vector<std::vector<double>> effect;                   ///< by pattern, by take
  std::vector<std::vector<std::vector<double>>> covariance;  ///< by pattern: of its effects
  double factor = 1;
  double factor_sd = 0;
  double squares = 0;                  ///< sum of (residual / SD)^2
  double degrees = 0;                  ///< of that sum
  std::vector<double> residual_cents;  ///< by cell
  std::vector<NoteShare> of_note;      ///< by note

  /// How many times the squares are larger than the stated variances let expect, at least 1 (R. T. Birge, Phys. Rev. 40
  /// (1932) 207).
  double excess() const { return degrees > 0 && squares > degrees ? squares / degrees : 1.0; }
};

/// Weighted least squares. What the cells cannot tell apart is shared out by the least norm, and its degrees of freedom
/// are not counted. `cells` must not be empty.
TakeFit fit_takes(const std::vector<TakeCell>& cells, const TakeModel& model);

/// Probability of squares as large or larger with that many degrees of freedom, the variance that they are measured by
/// having `of_scale` degrees of freedom itself (0: it is known).
double chance_of(double squares, double degrees, double of_scale);

/// Chance of effects of a pattern so far from alike, each take's own effect having the variance `own_variance` beside
/// what the cells leave open (Wald's test; Student's degrees of freedom by Satterthwaite where the cells scatter more
/// than stated). 1 for fewer than two takes.
double chance_of_effects(const TakeFit& fit, std::size_t pattern, const std::vector<double>& own_variance);

/// The note that stands out most from the model, where its share of the squares would be so large with a chance below
/// `level` by what all other notes scatter; absent: none does.
std::optional<std::size_t> note_standing_out(const TakeFit& fit, double level);

}  // namespace windway
