// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/blows/strength_count.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "breath/blows/breath_strength.hpp"
#include "breath/blows/strength_steps.hpp"

namespace windway {
namespace {

/// What is believed of a player beforehand (common practice and from memory, no source).
constexpr double usual_step_db = 4.0;  ///< of level, between neighbouring strengths, give or take a factor of two
constexpr double log_step_sd = 0.7;
constexpr double clear_log_odds = 1.0;  ///< nearly three to one, or it was one strength

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

/// Log density of a positive quantity about its usual size, in its own logarithm.
double log_density_of(double value, double usual, double log_sd) {
  return -0.5 * std::pow(std::log(value / usual) / log_sd, 2) - std::log(log_sd * std::sqrt(2.0 * std::numbers::pi));
}

/// From the softest strength to the hardest in dB of level, as two of the cues have it. Noise counts by how far it
/// rises over the tone, which no automatic gain changes and which is as much as the level rises (of noise that rises
/// twice as fast).
double range_db(const StrengthFit& fit) {
  const double level_db = fit.step[level_at].back(), over_tone_db = fit.step[noise_at].back() - level_db;
  return in_level_db(level_db, 2.0 * over_tone_db, fit.step[pitch_at].back());
}

/// Log evidence of a score's steps: its likelihood, and by Laplace's method what the prior leaves of them. `db`: dB of
/// level in one unit of the score.
double log_evidence(const StrengthFit& score, const Groups& groups, double db) {
  double log = score.log_likelihood - 0.5 * std::pow(db * score.residual_sd[0] / repeat_db, 2);
  for (int label = 1; label < score.strengths; ++label) {
    const auto k = static_cast<std::size_t>(label);
    const double step = score.step[0][k] - score.step[0][k - 1];
    const double relative_error = step_error(groups, score, label, score.residual_sd[0]) / step;
    if (!std::isfinite(relative_error)) return -HUGE_VAL;
    log += log_density_of(db * step, usual_step_db, log_step_sd) +
           0.5 * std::log(2.0 * std::numbers::pi * relative_error * relative_error);
  }
  return log;
}

/// The problem on one score, the weighted sum of the cues that tells the strengths of `fit` best: cues that move
/// together in a loose repeat must not count as independent evidence.
StrengthProblem scored_by(const StrengthFit& fit, StrengthProblem problem) {
  problem.cues = {weighted_cue(problem, fit)};
  return problem;
}

/// How much more the take speaks for the strengths of `fit` than for one.
double log_odds(const StrengthProblem& problem, const Groups& groups, const StrengthFit& fit) {
  const StrengthProblem scored = scored_by(fit, problem);
  const std::vector<Ranking> by_score{scored.cues.front().value};
  const StrengthFit score = fit_strengths(scored, fit.strengths, false, by_score);
  const double db = range_db(fit) / score.step[0].back();
  if (!(db > 0)) return -HUGE_VAL;
  return log_evidence(score, groups, db) - log_evidence(fit_strengths(scored, 1, false, by_score), groups, db);
}

}  // namespace

StrengthFit count_strengths(const StrengthProblem& problem) {
  const Groups groups = groups_of(problem.group);
  const auto most_holds = std::ranges::max(groups, {}, [](const auto& holds) { return holds.size(); }).size();
  int strengths = 1;
  double most = clear_log_odds;
  std::vector<Ranking> rankings = rankings_of(problem);
  for (int more = 2; more <= std::min(most_strengths, static_cast<int>(most_holds)); ++more) {
    const StrengthFit fit = fit_strengths(problem, more, false, rankings);
    const double odds = log_odds(problem, groups, fit);
    if (odds <= most && strengths > 1) break;  // still more would split what is one strength
    rankings = {weighted_cue(problem, fit).value};
    if (odds <= most) continue;
    most = odds;
    strengths = more;
  }
  return fit_strengths(problem, strengths, strengths > 1, rankings_of(problem));
}

}  // namespace windway
