// SPDX-License-Identifier: GPL-3.0-or-later
#include "statistics/likelihoods.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numeric>

namespace windway {

std::vector<double> relative_likelihoods(std::vector<double> logs) {
  assert(!logs.empty());
  const double greatest = *std::ranges::max_element(logs);
  for (double& log : logs) log = std::exp(log - greatest);
  return logs;
}

double log_sum_exp(const std::vector<double>& logs) {
  const std::vector<double> relative = relative_likelihoods(logs);
  return *std::ranges::max_element(logs) + std::log(std::accumulate(relative.begin(), relative.end(), 0.0));
}

}  // namespace windway
