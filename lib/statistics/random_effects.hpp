// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <functional>

namespace windway {

/// The variance common to all that must be added to each one's own so that the weighted sum of squares,
/// `sum_of_squares(added variance)`, which falls as it grows, is `degrees`; 0 where it is less without
/// (R. C. Paule and J. Mandel, J. Res. NBS 87 (1982) 377).
double added_variance(const std::function<double(double)>& sum_of_squares, double degrees);

}  // namespace windway
