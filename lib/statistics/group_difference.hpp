// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <optional>

#include "statistics/moments.hpp"
#include "units/units.hpp"

namespace windway {

/// How many cents the mean of a group is above that of the rest, with unequal variances (B. L. Welch, Biometrika 34,
/// 1947; degrees of freedom by Welch and Satterthwaite, JCGM 100:2008, G.4). Empty where either has fewer than two
/// values, or where nothing varies in both: the u95 would then be a made-up 0. With several `comparisons` the u95 is as
/// wide as u95_factor makes it for so many at once.
std::optional<CentsEstimate> difference_of_means(const Moments& group, const Moments& rest,
                                                 std::size_t comparisons = 1);

}  // namespace windway
