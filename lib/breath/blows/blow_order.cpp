// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/blows/blow_order.hpp"

#include <cmath>

namespace windway {
namespace {

std::size_t cell(int joint, int before, int after, int strengths) {
  const int index = ((joint - 1) * strengths + before) * strengths + after;
  return static_cast<std::size_t>(index);
}

}  // namespace

BlowOrder::BlowOrder(const StrengthProblem& problem, const std::vector<int>& label, int strengths)
    : strengths_(strengths) {
  std::vector<double> count(static_cast<std::size_t>(2 * strengths * strengths), 0.3);  // nothing is impossible
  joint_.assign(label.size(), 0);
  for (std::size_t h = 1; h < label.size(); ++h) {
    if (!problem.follows[h]) continue;
    joint_[h] = problem.group[h] == problem.group[h - 1] ? 2 : 1;
    count[cell(joint_[h], label[h - 1], label[h], strengths)] += 1.0;
  }
  log_odds_.resize(count.size());
  for (int joint : {1, 2}) {
    const auto sum = [&](auto keep) {
      double total = 0;
      for (int before = 0; before < strengths; ++before)
        for (int after = 0; after < strengths; ++after)
          if (keep(before, after)) total += count[cell(joint, before, after, strengths)];
      return total;
    };
    const double all = sum([](int, int) { return true; });
    for (int before = 0; before < strengths; ++before)
      for (int after = 0; after < strengths; ++after) {
        const double by_chance =
            sum([&](int b, int) { return b == before; }) * sum([&](int, int a) { return a == after; }) / all;
        const std::size_t at = cell(joint, before, after, strengths);
        log_odds_[at] = std::log(count[at] / by_chance);
      }
  }
}

double BlowOrder::log_step(std::size_t hold, const std::vector<int>& label) const {
  if (hold >= joint_.size() || joint_[hold] == 0) return 0.0;
  return log_odds_[cell(joint_[hold], label[hold - 1], label[hold], strengths_)];
}

double BlowOrder::log_odds(const std::vector<std::size_t>& holds, const std::vector<int>& label) const {
  double sum = 0;
  for (std::size_t i = 0; i < holds.size(); ++i) {
    sum += log_step(holds[i], label);
    const bool next_is_mine = i + 1 < holds.size() && holds[i + 1] == holds[i] + 1;
    if (!next_is_mine) sum += log_step(holds[i] + 1, label);  // its own turn counts the joint otherwise
  }
  return sum;
}

}  // namespace windway
