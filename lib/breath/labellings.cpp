// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/labellings.hpp"

#include <cmath>
#include <utility>

namespace windway {
namespace {

/// A number for each of two cues.
using Two = double __attribute__((vector_size(2 * sizeof(double))));

/// One note's values of two cues, softest hold first, so that the sums under a labelling need not go through the holds.
/// Two cues side by side fill a register.
class NoteCues {
 public:
  void put(std::size_t lane, const Cue& cue, const CueSteps& steps, const std::vector<std::size_t>& holds) {
    double mean = 0;
    for (std::size_t h : holds) mean += cue.value[h] / static_cast<double>(holds.size());
    sum_of_first_.resize(holds.size() + 1);
    for (std::size_t i = 0; i < holds.size(); ++i) {
      const double value = cue.value[holds[i]] - mean;
      sum_of_first_[i + 1][lane] = sum_of_first_[i][lane] + value;
      values_squared_[lane] += value * value;
    }
    for (std::size_t label = 0; label < most_strengths; ++label) step_[label][lane] = steps_of(steps)[label];
    precision_[lane] = 1.0 / (steps.residual_sd * steps.residual_sd);
    pull_[lane] = cue.slope_variation * cue.slope_variation * precision_[lane];
  }

  LabelDensity<Two> density(const LabelCounts& counts) const {
    LabelSums<Two> sums;
    sums.values_squared = values_squared_;
    std::size_t end = 0;
    for (std::size_t label = 0; label < counts.size(); ++label) {
      const std::size_t first = end;
      end += counts[label];
      sums.holds[label] = static_cast<double>(counts[label]);
      sums.sum[label] = sum_of_first_[end] - sum_of_first_[first];
    }
    return label_density(note_sums(sums, step_), precision_, pull_);
  }

 private:
  std::vector<Two> sum_of_first_;
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
  std::vector<double> log_likelihood;
  log_likelihood.reserve(labellings.size());
  for (const LabelCounts& counts : labellings) {
    Two stretch{1.0, 1.0};
    Two squares{};
    for (const NoteCues& two : cues) {
      const LabelDensity<Two> density = two.density(counts);
      stretch *= density.stretch;
      squares += density.squares;
    }
    log_likelihood.push_back(scale - 0.5 * (std::log(stretch[0] * stretch[1]) + squares[0] + squares[1]));
  }
  return log_likelihood;
}

}  // namespace windway
