// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/blows/labellings.hpp"

#include <cmath>
#include <utility>

namespace windway {
namespace {

/// A number for each of two cues.
using Two = double __attribute__((vector_size(2 * sizeof(double))));

/// One note's values of two cues, softest hold first. Two cues side by side fill a register. With b(l) holds softer
/// than label l, step(l) its step over the softest label's and rise(l) that over the label's before it, the sums over
/// the holds that a labelling's density needs,
///
///   sum step = sum_l (n - b(l)) rise(l),   sum step value = sum_l (rest of the values from b(l) on) rise(l),
///   sum step^2 = sum_l (n - b(l)) rise(l) (step(l) + step(l - 1)),
///
/// take one term of each label, which all labellings share.
class NoteCues {
 public:
  void put(std::size_t lane, const Cue& cue, const CueSteps& steps, const std::vector<std::size_t>& holds) {
    double mean = 0;
    for (std::size_t h : holds) mean += cue.value[h] / static_cast<double>(holds.size());
    rest_of_values_.resize(holds.size() + 1);
    for (std::size_t i = holds.size(); i-- > 0;) {
      const double value = cue.value[holds[i]] - mean;
      rest_of_values_[i][lane] = rest_of_values_[i + 1][lane] + value;
      values_squared_[lane] += value * value;
    }
    for (std::size_t label = 0; label < most_strengths; ++label) step_[label][lane] = steps_of(steps)[label];
    precision_[lane] = 1.0 / (steps.residual_sd * steps.residual_sd);
    pull_[lane] = cue.slope_variation * cue.slope_variation * precision_[lane];
  }

  LabelDensity<Two> density(const LabelCounts& counts, std::size_t strengths) const {
    const std::size_t n = rest_of_values_.size() - 1;
    std::size_t softest = 0;
    while (counts[softest] == 0) ++softest;
    NoteSums<Two> sums{static_cast<double>(n), {}, {}, values_squared_};
    Two steps{};
    std::size_t softer = counts[softest];
    for (std::size_t label = softest + 1; label < strengths; softer += counts[label++]) {
      const Two rise = step_[label] - step_[label - 1];
      const Two more = static_cast<double>(n - softer) * rise;
      steps += more;
      sums.steps_squared += more * (step_[label] + step_[label - 1] - 2.0 * step_[softest]);
      sums.steps_by_values += rest_of_values_[softer] * rise;
    }
    const Two about_mean = sums.steps_squared - steps * (steps / sums.holds);
    sums.steps_squared = about_mean > 0.0 ? about_mean : Two{};
    return label_density(sums, precision_, pull_);
  }

 private:
  std::vector<Two> rest_of_values_;  // from a hold on
  Steps<Two> step_{};
  Two values_squared_{}, precision_{}, pull_{};  // where there is no second cue, nothing
};

}  // namespace

std::vector<LabelCounts> rising_labels(std::size_t n, int strengths) {
  std::vector<LabelCounts> all;
  const auto hardest = static_cast<std::size_t>(strengths) - 1;
  LabelCounts counts{n};
  while (true) {
    all.push_back(counts);
    std::size_t last = hardest;  // from which one hold more can go to the next label
    while (last > 0 && counts[last - 1] == 0) --last;
    if (last == 0) return all;
    const std::size_t rest = std::exchange(counts[hardest], 0);
    --counts[last - 1];
    counts[last] = rest + 1;
  }
}

std::vector<double> log_likelihoods(const StrengthProblem& problem, const std::vector<CueSteps>& steps,
                                    const std::vector<std::size_t>& holds, const std::vector<LabelCounts>& labellings) {
  std::vector<NoteCues> cues((steps.size() + 1) / 2);
  double scale = 0;
  for (std::size_t c = 0; c < steps.size(); ++c) {
    cues[c / 2].put(c % 2, problem.cues[c], steps[c], holds);
    scale += log_scale(static_cast<double>(holds.size()), steps[c].residual_sd * steps[c].residual_sd);
  }
  const std::size_t strengths = steps.front().step.size();
  std::vector<double> log_likelihood;
  log_likelihood.reserve(labellings.size());
  for (const LabelCounts& counts : labellings) {
    Two stretch{1.0, 1.0};
    Two squares{};
    for (const NoteCues& two : cues) {
      const LabelDensity<Two> density = two.density(counts, strengths);
      stretch *= density.stretch;
      squares += density.squares;
    }
    log_likelihood.push_back(scale - 0.5 * (std::log(stretch[0] * stretch[1]) + squares[0] + squares[1]));
  }
  return log_likelihood;
}

}  // namespace windway
