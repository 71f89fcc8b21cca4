// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/strength_count.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "breath/strength_steps.hpp"

namespace windway {
namespace {

constexpr double clear_log_evidence = 2.0;  ///< e^2: seven to one
/// And so much from each note that was blown more than once: loose repeats of one blow, which by chance look like two
/// strengths, gave at most 0.6 a note in simulated takes, blows of 2 dB apart at least 1.1.
constexpr double clear_log_evidence_a_note = 0.8;
constexpr double least_step_in_repeats = 2.0;  ///< a step of a cue counts beyond so many times its repeat_sd
constexpr double least_step_in_errors = 3.0;   ///< and beyond so many of its own standard errors
constexpr double least_share_of_range = 0.12;  ///< a strength nearer to its neighbour than this is the same strength

std::ptrdiff_t notes_repeated(const Groups& groups) {
  return std::count_if(groups.begin(), groups.end(), [](const auto& holds) { return holds.size() > 1; });
}

/// Most notes that have the holds for it show every strength.
bool most_notes_complete(const Groups& groups, const StrengthFit& fit) {
  int complete = 0, able = 0;
  for (const auto& holds : groups) {
    if (holds.size() < 2) continue;
    std::set<int> labels;
    for (std::size_t h : holds) labels.insert(fit.label[h]);
    ++able;
    complete += static_cast<int>(labels.size()) == fit.strengths;
  }
  return 2 * complete > able;
}

/// Standard error of the step between two labels: each note with both gives one difference.
double step_error(const Groups& groups, const StrengthFit& fit, int label, double residual_sd) {
  double information = 0;
  for (const auto& holds : groups) {
    double below = 0, above = 0;
    for (std::size_t h : holds) {
      below += fit.label[h] == label - 1;
      above += fit.label[h] == label;
    }
    if (below > 0 && above > 0) information += 1.0 / (1.0 / below + 1.0 / above);
  }
  return information > 0 ? residual_sd / std::sqrt(information) : HUGE_VAL;
}

bool two_cues_agree(const StrengthProblem& problem, const Groups& groups, const StrengthFit& fit, int label) {
  int agree = 0;
  for (std::size_t c = 0; c < problem.cues.size(); ++c) {
    const auto k = static_cast<std::size_t>(label);
    const double step = fit.step[c][k] - fit.step[c][k - 1];
    agree += step > least_step_in_repeats * problem.cues[c].repeat_sd &&
             step > least_step_in_errors * step_error(groups, fit, label, fit.residual_sd[c]);
  }
  return agree >= 2;
}

bool steps_are_even(const StrengthFit& score) {
  const std::vector<double>& step = score.step.front();
  for (std::size_t k = 1; k < step.size(); ++k)
    if (step[k] - step[k - 1] < least_share_of_range * step.back()) return false;
  return true;
}

bool is_credible(const StrengthProblem& problem, const Groups& groups, const StrengthFit& fit) {
  if (!most_notes_complete(groups, fit)) return false;
  for (int label = 1; label < fit.strengths; ++label)
    if (!two_cues_agree(problem, groups, fit, label)) return false;
  return true;
}

}  // namespace

StrengthFit count_strengths(const StrengthProblem& problem) {
  const Groups groups = groups_of(problem.group);
  StrengthFit best = fit_strengths(problem, 1, false);
  const double notes = static_cast<double>(notes_repeated(groups));
  if (notes < 1) return best;
  const double clearly = std::max(clear_log_evidence, clear_log_evidence_a_note * notes);
  // The count is judged on one score: cues that move together in a loose repeat must not count as several witnesses.
  StrengthProblem scored = problem;
  scored.cues = {weighted_cue(problem, fit_strengths(problem, most_strengths, false))};
  double most_evidence = fit_strengths(scored, 1, false).log_evidence;
  for (int strengths = 2; strengths <= most_strengths; ++strengths) {
    const StrengthFit score = fit_strengths(scored, strengths, false);
    if (score.log_evidence < most_evidence + clearly || !steps_are_even(score)) continue;
    StrengthFit fit = fit_strengths(problem, strengths, true);
    if (!is_credible(problem, groups, fit)) continue;
    best = std::move(fit);
    most_evidence = score.log_evidence;
  }
  return best;
}

}  // namespace windway
