// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <vector>

#include "breath/response/ou_noise.hpp"
#include "scale/naming.hpp"

namespace windway {

/// Taken where the wander cannot be estimated: a steady player holds a blow's mean to half a cent (from memory).
inline constexpr double unseen_variance_cents2 = 0.25;

/// One model of how the breath may wander, and its posterior probability.
struct WanderShape {
  OuNoise noise;
  double weight = 0;                    ///< all shapes sum to 1
  std::vector<double> variance_cents2;  ///< by hold: of the wander itself
};

/// How the pitch wanders within a blow. It makes the mean of one blow differ from the note's response.
struct Wander {
  std::vector<WanderShape> shapes;  ///< empty where no hold has a curve to fit it to
  double degrees = 0;               ///< independent wanders seen in the whole take
};

/// Estimates the wander from the curves within the holds, pooled over the take: REML over a grid of correlation times,
/// with a constant and a straight sag of each hold taken out (so that slow wander which a short hold hides
/// is not counted as steadiness). Each note's variance is drawn towards what its bend predicts: a note that bends
/// easily wanders more. `bend_cents` by hold: cents from soft to hard of its note, 0 where not known. `used`,
/// `is_swell` by hold.
Wander measure_wander(const Naming& naming, const std::vector<bool>& used, const std::vector<bool>& is_swell,
                      const std::vector<double>& bend_cents);

/// Variance, cents^2, of the mean of hold `hold` about the note's response: the wander over its steady part. Where
/// the wander cannot be estimated: unseen_variance_cents2.
double mean_variance_cents2(const Wander& wander, const Naming& naming, std::size_t hold);

}  // namespace windway
