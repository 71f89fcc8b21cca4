// SPDX-License-Identifier: GPL-3.0-or-later
#include "statistics/random_effects.hpp"

namespace windway {

double added_variance(const std::function<double(double)>& sum_of_squares, double degrees) {
  if (sum_of_squares(0.0) <= degrees) return 0.0;
  double most = 1e-6;
  while (sum_of_squares(most) > degrees && most < 1e9) most *= 4.0;
  double least = 0.0;
  for (int halving = 0; halving < 60; ++halving) {
    const double middle = 0.5 * (least + most);
    (sum_of_squares(middle) > degrees ? least : most) = middle;
  }
  return most;
}

}  // namespace windway
