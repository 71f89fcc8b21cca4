// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

namespace windway {

// Weights of a residual of `sds` standard deviations in an M-estimate (P. J. Huber, Robust Statistics, 1981).

/// Huber: 1 up to two standard deviations, less beyond.
double huber_weight(double sds);

/// From here on Tukey's bisquare gives no weight (95 % efficient for normal residuals, from memory).
inline constexpr double bisquare_reach_sds = 4.685;

/// Tukey's bisquare: 1 at none, 0 from `bisquare_reach_sds` on.
double bisquare_weight(double sds);

}  // namespace windway
