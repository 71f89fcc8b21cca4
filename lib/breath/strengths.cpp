// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/strengths.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "breath/blow_order.hpp"
#include "breath/strength_steps.hpp"

namespace windway {
namespace {

constexpr int most_passes = 25;

/// Every labelling of `n` holds, softest first, whose labels never fall.
void rising_labels(std::size_t n, int strengths, std::vector<int>& begun, std::vector<std::vector<int>>& all) {
  if (begun.size() == n) {
    all.push_back(begun);
    return;
  }
  for (int label = begun.empty() ? 0 : begun.back(); label < strengths; ++label) {
    begun.push_back(label);
    rising_labels(n, strengths, begun, all);
    begun.pop_back();
  }
}

std::vector<std::vector<int>> rising_labels(std::size_t n, int strengths) {
  std::vector<int> begun;
  std::vector<std::vector<int>> all;
  rising_labels(n, strengths, begun, all);
  return all;
}

int distinct(const std::vector<int>& rising) {
  int count = rising.empty() ? 0 : 1;
  for (std::size_t i = 1; i < rising.size(); ++i) count += rising[i] != rising[i - 1];
  return count;
}

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

/// Half of the belief goes to notes that show every strength, half to any labelling alike.
double log_prior(const std::vector<int>& rising, int strengths) {
  const int n = static_cast<int>(rising.size());
  double p = 0.5 * std::pow(strengths, -n);
  if (distinct(rising) == std::min(n, strengths)) p += 0.5 / complete_labellings(n, strengths);
  return std::log(p);
}

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

double weighted_sum(const StrengthProblem& problem, const std::vector<double>& weight, std::size_t hold) {
  double sum = 0;
  for (std::size_t c = 0; c < weight.size(); ++c) sum += weight[c] * problem.cues[c].value[hold];
  return sum;
}

/// One note's holds from soft to hard as the weighted cues have them.
std::vector<std::size_t> softest_first(const StrengthProblem& problem, const std::vector<double>& weight,
                                       std::vector<std::size_t> holds) {
  std::stable_sort(holds.begin(), holds.end(), [&](std::size_t a, std::size_t b) {
    return weighted_sum(problem, weight, a) < weighted_sum(problem, weight, b);
  });
  return holds;
}

double log_likelihood(const StrengthProblem& problem, const Model& model, const std::vector<std::size_t>& holds,
                      const std::vector<int>& labels) {
  double sum = 0;
  std::vector<double> values(holds.size());
  for (std::size_t c = 0; c < model.cue.size(); ++c) {
    for (std::size_t i = 0; i < holds.size(); ++i) values[i] = problem.cues[c].value[holds[i]];
    sum += log_density(values, labels, model.cue[c], problem.cues[c].slope_variation);
  }
  return sum;
}

/// One note's best labels put into `fit`, with how certain they are; gives the note's log evidence.
double label_note(const StrengthProblem& problem, const Model& model, const BlowOrder& order,
                  const std::vector<std::size_t>& in_time, StrengthFit& fit) {
  const std::vector<std::size_t> holds = softest_first(problem, weights(model), in_time);
  const auto candidates = rising_labels(holds.size(), fit.strengths);
  std::vector<double> score;
  for (const std::vector<int>& labels : candidates) {
    for (std::size_t i = 0; i < holds.size(); ++i) fit.label[holds[i]] = labels[i];
    score.push_back(log_likelihood(problem, model, holds, labels) + log_prior(labels, fit.strengths) +
                    order.log_odds(in_time, fit.label));
  }
  const auto best = static_cast<std::size_t>(std::max_element(score.begin(), score.end()) - score.begin());
  double sum = 0;
  for (double s : score) sum += std::exp(s - score[best]);
  for (std::size_t i = 0; i < holds.size(); ++i) {
    double agree = 0;
    for (std::size_t k = 0; k < candidates.size(); ++k)
      if (candidates[k][i] == candidates[best][i]) agree += std::exp(score[k] - score[best]);
    fit.label[holds[i]] = candidates[best][i];
    fit.certainty[holds[i]] = agree / sum;
  }
  return score[best] + std::log(sum);
}

/// First labels: each note's holds in the order of `value`, cut into equal parts.
std::vector<int> labels_by_rank(const std::vector<double>& value, const Groups& groups, int strengths) {
  std::vector<int> label(value.size(), 0);
  for (std::vector<std::size_t> holds : groups) {
    std::stable_sort(holds.begin(), holds.end(), [&](std::size_t a, std::size_t b) { return value[a] < value[b]; });
    for (std::size_t i = 0; i < holds.size(); ++i)
      label[holds[i]] = static_cast<int>(i * static_cast<std::size_t>(strengths) / holds.size());
  }
  return label;
}

/// Density of a scatter above what repeats can do: a weak belief that players repeat themselves.
double log_scatter_prior(const StrengthProblem& problem, const Model& model) {
  double sum = 0;
  for (std::size_t c = 0; c < model.cue.size(); ++c) {
    const double ratio = std::pow(problem.cues[c].repeat_sd / model.cue[c].residual_sd, 2);
    sum += 3.0 * std::log(ratio) - 2.0 * (ratio - 1.0);
  }
  return sum;
}

StrengthFit refine(const StrengthProblem& problem, const Groups& groups, std::vector<int> label, int strengths,
                   bool order_counts) {
  StrengthFit fit;
  fit.strengths = strengths;
  fit.label = std::move(label);
  fit.certainty.assign(fit.label.size(), 1.0);
  Model model;
  bool settled = false;
  for (int pass = 0; pass < most_passes; ++pass) {
    model = fit_model(problem, groups, fit.label, strengths);
    const BlowOrder order = order_counts && settled ? BlowOrder(problem, fit.label, strengths) : BlowOrder();
    const std::vector<int> before = fit.label;
    fit.log_evidence = log_scatter_prior(problem, model);
    for (const auto& holds : groups) fit.log_evidence += label_note(problem, model, order, holds, fit);
    if (fit.label != before) continue;
    if (settled || !order_counts) break;
    settled = true;  // the order of blowing is learnt only from labels that the cues alone have settled
  }
  for (const CueSteps& c : model.cue) {
    fit.step.push_back(c.step);
    fit.residual_sd.push_back(c.residual_sd);
  }
  const double parameters = (strengths - 1.0) * static_cast<double>(problem.cues.size());
  fit.log_evidence -= 0.5 * parameters * std::log(static_cast<double>(fit.label.size()));
  return fit;
}

}  // namespace

StrengthFit fit_strengths(const StrengthProblem& problem, int strengths, bool order_counts) {
  const Groups groups = groups_of(problem.group);
  StrengthFit best;
  best.log_evidence = -std::numeric_limits<double>::infinity();
  std::vector<double> time(problem.group.size());
  std::iota(time.begin(), time.end(), 0.0);
  std::vector<std::vector<double>> rankings{time};
  for (const Cue& cue : problem.cues) rankings.push_back(cue.value);
  for (const auto& ranking : rankings) {
    StrengthFit fit = refine(problem, groups, labels_by_rank(ranking, groups, strengths), strengths, order_counts);
    if (fit.log_evidence > best.log_evidence) best = std::move(fit);
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
  for (std::size_t h = 0; h < problem.group.size(); ++h) cue.value.push_back(weighted_sum(problem, weight, h));
  cue.repeat_sd = std::max(std::sqrt(variance), 1e-12);
  cue.slope_variation = 0.3;
  return cue;
}

}  // namespace windway
