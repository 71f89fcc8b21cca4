// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <functional>

namespace windway {

/// The variance between groups by Paule and Mandel: added to each group's own variance, it makes the weighted sum of
/// squares, `sum_of_squares(added variance)`, equal to its `degrees` of freedom. The sum must fall as the variance
/// grows; 0 where it is below `degrees` without one (R. C. Paule and J. Mandel, J. Res. NBS 87 (1982) 377).
double added_variance(const std::function<double(double)>& sum_of_squares, double degrees);

}  // namespace windway
