// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <algorithm>
#include <cstdio>
#include <functional>
#include <future>
#include <limits>
#include <span>
#include <vector>

namespace windway {

/// A number of a model that is fitted.
template <class Model>
struct Parameter {
  const char* name;
  double Model::*value;
  double most = std::numeric_limits<double>::infinity();
};

/// Sum of the faults of all takes, half of them on another core.
template <class Take, class Model>
double all_faults(const std::vector<Take>& takes, const Model& model, double (*faults)(const Take&, const Model&)) {
  const auto part = [&](std::size_t first) {
    double sum = 0;
    for (std::size_t i = first; i < takes.size(); i += 2) sum += faults(takes[i], model);
    return sum;
  };
  auto other = std::async(std::launch::async, part, 1);
  const double sum = part(0);
  return sum + other.get();
}

/// Moves one parameter after the other by a factor, and keeps what makes the faults fewer; the factor falls from round
/// to round. Prints the faults by round and the parameters found.
template <class Model>
Model fitted(Model model, std::span<const Parameter<Model>> parameters,
             const std::function<double(const Model&)>& faults, int rounds) {
  constexpr double first_factor = 1.4, last_factor = 1.1, closer = 0.7;
  double least = faults(model);
  std::printf("to begin with %.2f faults\n", least);
  double factor = first_factor;
  for (int round = 0; round < rounds; ++round, factor = std::max(last_factor, 1.0 + closer * (factor - 1.0))) {
    for (const Parameter<Model>& parameter : parameters) {
      for (const double by : {factor, 1.0 / factor}) {
        Model moved = model;
        moved.*parameter.value = std::min(parameter.most, moved.*parameter.value * by);
        const double sum = faults(moved);
        if (sum >= least) continue;
        least = sum;
        model = moved;
        break;
      }
    }
    std::printf("round %d: %.2f faults\n", round + 1, least);
    std::fflush(stdout);
  }
  for (const Parameter<Model>& parameter : parameters)
    std::printf("%-24s %.4g\n", parameter.name, model.*parameter.value);
  return model;
}

}  // namespace windway
