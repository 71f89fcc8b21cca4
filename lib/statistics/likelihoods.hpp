// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

namespace windway {

/// Each likelihood over the greatest, from their logarithms; these must not be none.
std::vector<double> relative_likelihoods(std::vector<double> logs);

/// log(sum(exp(log))) without overflow; there must be some.
double log_sum_exp(const std::vector<double>& logs);

}  // namespace windway
