// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/blows/strengths.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>
#include <numeric>
#include <optional>
#include <set>

#include "breath/blows/blow_order.hpp"
#include "breath/blows/labellings.hpp"
#include "breath/blows/strength_steps.hpp"

namespace windway {
namespace {

constexpr int most_passes = 25;
constexpr double incomplete_share = 0.1;  ///< of the notes (common practice, no source)

/// A less likely labelling than the best by so much (natural log) changes no digit.
constexpr double negligible_log = -40.0;

/// How many labellings of n holds show as many strengths as they can: maps onto all labels, or without a repeat.
double complete_labellings(int n, int strengths) {
  double count = 0;
  if (n < strengths) {
    count = 1;
    for (int i = 0; i < n; ++i) count *= strengths - i;
    return count;
  }
  double choose = 1;
  for (int left_out = 0; left_out <= strengths; ++left_out) {
    count += (left_out % 2 ? -1.0 : 1.0) * choose * std::pow(strengths - left_out, n);
    choose = choose * (strengths - left_out) / (left_out + 1);
  }
  return count;
}

/// A player who plays several strengths plays them on every note: one note in ten has too few holds for that, and of
/// the others one in ten misses a strength all the same. Labellings of one sort are believed alike.
class LabelPrior {
 public:
  LabelPrior(std::size_t holds, int strengths) : complete_(std::min(static_cast<int>(holds), strengths)) {
    const int n = static_cast<int>(holds);
    const double enough = n < strengths ? incomplete_share : 1.0 - incomplete_share;
    const double any = incomplete_share * std::pow(strengths, -n);
    log_any_ = std::log(enough * any);
    log_complete_ = std::log(enough * (any + (1.0 - incomplete_share) / complete_labellings(n, strengths)));
  }
  double log_of(const LabelCounts& counts) const {
    const auto absent = std::count(counts.begin(), counts.end(), 0U);
    return static_cast<int>(counts.size()) - absent == complete_ ? log_complete_ : log_any_;
  }

 private:
  int complete_;
  double log_any_, log_complete_;
};

struct Model {
  std::vector<CueSteps> cue;
};

Model fit_model(const StrengthProblem& problem, const Groups& groups, const std::vector<int>& label, int strengths) {
  Model model;
  for (const Cue& cue : problem.cues) model.cue.push_back(fit_cue_steps(cue, groups, label, strengths));
  return model;
}

std::vector<double> weights(const Model& model) {
  std::vector<double> weight;
  for (const CueSteps& c : model.cue) weight.push_back(c.step.back() / (c.residual_sd * c.residual_sd));
  return weight;
}

/// The weighted sum of the cues, by hold.
std::vector<double> weighted_sums(const StrengthProblem& problem, const std::vector<double>& weight) {
  std::vector<double> sums(problem.group.size(), 0.0);
  for (std::size_t c = 0; c < weight.size(); ++c) {
    for (std::size_t h = 0; h < sums.size(); ++h) sums[h] += weight[c] * problem.cues[c].value[h];
  }
  return sums;
}

/// One note's holds from soft to hard.
std::vector<std::size_t> softest_first(const std::vector<double>& strength, std::vector<std::size_t> holds) {
  std::stable_sort(holds.begin(), holds.end(), [&](std::size_t a, std::size_t b) { return strength[a] < strength[b]; });
  return holds;
}

void put_labels(const std::vector<std::size_t>& holds, const LabelCounts& counts, std::vector<int>& label) {
  std::size_t i = 0;
  for (std::size_t k = 0; k < counts.size(); ++k)
    for (const std::size_t end = i + counts[k]; i < end; ++i) label[holds[i]] = static_cast<int>(k);
}

/// Adds `probability` to each hold, softest first, that two labellings give the same label.
void add_where_agreed(const LabelCounts& a, const LabelCounts& b, double probability, std::vector<double>& agreed) {
  std::size_t first_a = 0, first_b = 0;
  for (std::size_t k = 0; k < a.size(); ++k) {
    const std::size_t end_a = first_a + a[k], end_b = first_b + b[k];
    for (std::size_t i = std::max(first_a, first_b); i < std::min(end_a, end_b); ++i) agreed[i] += probability;
    first_a = end_a;
    first_b = end_b;
  }
}

/// All labellings of as many holds as a note has, by their number.
using Candidates = std::map<std::size_t, std::vector<LabelCounts>>;

Candidates candidates_of(const Groups& groups, int strengths) {
  Candidates candidates;
  for (const auto& holds : groups)
    if (!candidates.contains(holds.size())) candidates[holds.size()] = rising_labels(holds.size(), strengths);
  return candidates;
}

/// One note's best labels put into `fit`, with how certain they are; gives the note's log likelihood.
double label_note(const StrengthProblem& problem, const Model& model, const BlowOrder& order,
                  const std::vector<LabelCounts>& candidates, const std::vector<std::size_t>& in_time,
                  const std::vector<double>& strength, StrengthFit& fit) {
  const std::vector<std::size_t> holds = softest_first(strength, in_time);
  std::vector<double> score = log_likelihoods(problem, model.cue, holds, candidates);
  const LabelPrior prior(holds.size(), fit.strengths);
  for (std::size_t k = 0; k < score.size(); ++k) {
    score[k] += prior.log_of(candidates[k]);
    if (order.says_nothing()) continue;
    put_labels(holds, candidates[k], fit.label);
    score[k] += order.log_odds(in_time, fit.label);
  }
  const auto best = static_cast<std::size_t>(std::max_element(score.begin(), score.end()) - score.begin());
  double sum = 0;
  std::vector<double> agreed(holds.size(), 0.0);
  for (std::size_t k = 0; k < score.size(); ++k) {
    if (score[k] - score[best] < negligible_log) continue;
    const double probability = std::exp(score[k] - score[best]);
    sum += probability;
    add_where_agreed(candidates[k], candidates[best], probability, agreed);
  }
  put_labels(holds, candidates[best], fit.label);
  for (std::size_t i = 0; i < holds.size(); ++i) fit.certainty[holds[i]] = agreed[i] / sum;
  return score[best] + std::log(sum);
}

/// First labels: each note's holds in the order of `value`, cut into equal parts.
std::vector<int> labels_by_rank(const Ranking& value, const Groups& groups, int strengths) {
  std::vector<int> label(value.size(), 0);
  for (std::vector<std::size_t> holds : groups) {
    std::stable_sort(holds.begin(), holds.end(), [&](std::size_t a, std::size_t b) { return value[a] < value[b]; });
    for (std::size_t i = 0; i < holds.size(); ++i)
      label[holds[i]] = static_cast<int>(i * static_cast<std::size_t>(strengths) / holds.size());
  }
  return label;
}

/// From these first labels; empty where the passes come to labels in `been`, from which they would go on as before.
/// Adds the labels that it passed there, unless it went round in circles.
std::optional<StrengthFit> refine(const StrengthProblem& problem, const Groups& groups, const Candidates& candidates,
                                  std::vector<int> label, int strengths, bool order_counts,
                                  std::set<std::vector<int>>& been) {
  StrengthFit fit;
  fit.strengths = strengths;
  fit.label = std::move(label);
  fit.certainty.assign(fit.label.size(), 1.0);
  Model model;
  bool settled = false;
  bool ended = false;
  std::set<std::vector<int>> passed;
  for (int pass = 0; pass < most_passes && !ended; ++pass) {
    if (!settled && been.contains(fit.label)) return std::nullopt;
    if (!settled) passed.insert(fit.label);
    model = fit_model(problem, groups, fit.label, strengths);
    const BlowOrder order = order_counts && settled ? BlowOrder(problem, fit.label, strengths) : BlowOrder();
    const std::vector<int> before = fit.label;
    fit.log_likelihood = 0;
    const std::vector<double> strength = weighted_sums(problem, weights(model));
    for (const auto& holds : groups)
      fit.log_likelihood += label_note(problem, model, order, candidates.at(holds.size()), holds, strength, fit);
    if (fit.label != before) continue;
    ended = settled || !order_counts;
    settled = true;  // the order of blowing is learnt only from labels that the cues alone have settled
  }
  if (ended) been.merge(passed);
  for (const CueSteps& c : model.cue) {
    fit.step.push_back(c.step);
    fit.residual_sd.push_back(c.residual_sd);
  }
  return fit;
}

}  // namespace

std::vector<Ranking> rankings_of(const StrengthProblem& problem) {
  Ranking time(problem.group.size());
  std::iota(time.begin(), time.end(), 0.0);
  std::vector<Ranking> rankings{time};
  for (const Cue& cue : problem.cues) rankings.push_back(cue.value);
  return rankings;
}

StrengthFit fit_strengths(const StrengthProblem& problem, int strengths, bool order_counts,
                          const std::vector<Ranking>& rankings) {
  const Groups groups = groups_of(problem.group);
  const Candidates candidates = candidates_of(groups, strengths);
  StrengthFit best;
  best.log_likelihood = -std::numeric_limits<double>::infinity();
  std::set<std::vector<int>> been;
  for (const Ranking& ranking : rankings) {
    auto fit =
        refine(problem, groups, candidates, labels_by_rank(ranking, groups, strengths), strengths, order_counts, been);
    if (fit && fit->log_likelihood > best.log_likelihood) best = std::move(*fit);
  }
  return best;
}

Cue weighted_cue(const StrengthProblem& problem, const StrengthFit& fit) {
  Cue cue;
  double variance = 0;
  std::vector<double> weight;
  for (std::size_t c = 0; c < problem.cues.size(); ++c) {
    weight.push_back(fit.step[c].back() / (fit.residual_sd[c] * fit.residual_sd[c]));
    variance += std::pow(weight[c] * problem.cues[c].repeat_sd, 2);
  }
  cue.value = weighted_sums(problem, weight);
  cue.repeat_sd = std::max(std::sqrt(variance), 1e-12);
  cue.slope_variation = 0.3;
  return cue;
}

}  // namespace windway
