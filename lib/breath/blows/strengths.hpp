// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <vector>

namespace windway {

inline constexpr int most_strengths = 5;  ///< soft, hard, and what a player can keep apart between them

/// One thing that tells how hard a hold was blown (level, breath noise, colour, pitch), in its own unit.
struct Cue {
  std::vector<double> value;   ///< by hold
  double repeat_sd = 0.5;      ///< how well a repeat of one blow can agree at best
  double slope_variation = 0;  ///< relative SD, from note to note, of what one step of strength does to the cue
};

/// The order of the cues where all four are there.
enum CueIndex : std::size_t { level_at, noise_at, colour_at, pitch_at };

/// The holds to be judged, in order of time.
struct StrengthProblem {
  std::vector<int> group;     ///< by hold: notes (of one take) that share the unknown level of each cue
  std::vector<bool> follows;  ///< by hold: stands right after the hold before it, in the same take
  std::vector<Cue> cues;
};

/// Holds sorted into strengths, 0 the softest.
struct StrengthFit {
  int strengths = 1;
  std::vector<int> label;                 ///< by hold
  std::vector<double> certainty;          ///< by hold: probability of that label, 0 to 1
  std::vector<std::vector<double>> step;  ///< by cue, by label: mean above label 0; never falls with the label
  std::vector<double> residual_sd;        ///< by cue: of one hold about its note and label
  double log_likelihood = 0;              ///< over all labellings
};

/// Something that may rank the holds by strength, by hold.
using Ranking = std::vector<double>;

/// The time and each cue.
std::vector<Ranking> rankings_of(const StrengthProblem& problem);

/// Fits `strengths` common steps to all cues at once. Every note has its own offset in every cue, and its own slope
/// about the common one; each cue's scatter is estimated, so that a cue which a room has spoilt weighs little. A note's
/// holds keep the order of their weighted cues; the order of blowing that the other notes show counts as one more cue
/// where `order_counts`. Gaussian mixture by iterated classification, from the labels that each ranking gives: the
/// likeliest fit of all. `strengths` is most_strengths at most; the cost
/// is about holds^2 x cues for one note.
StrengthFit fit_strengths(const StrengthProblem& problem, int strengths, bool order_counts,
                          const std::vector<Ranking>& rankings);

/// The weighted sum of the cues that tells the strengths of `fit` best, as one cue.
Cue weighted_cue(const StrengthProblem& problem, const StrengthFit& fit);

}  // namespace windway
