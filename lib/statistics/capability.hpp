// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <optional>

namespace windway {

/// The tolerance, in the unit of the values; `upper` > `lower`.
struct ToleranceBand {
  double lower = 0;
  double upper = 0;
};

/// Process capability indices.
struct Capability {
  double cp = 0;   ///< width of the band over six SDs: the capability if the mean were centred
  double cpk = 0;  ///< distance of the mean from the nearer limit over three SDs; below 0 where the mean is outside
};

/// Cp and Cpk of values with this mean and SD (SAS/QC documentation, PROC CAPABILITY; ISO 22514-2). Empty where the SD
/// is 0, where a number is not finite, and for a band of no width.
std::optional<Capability> capability(double mean, double sd, const ToleranceBand& band);

/// Half the width of the 95 % interval of a Cp from `n` values, as a share of it; n >= 2. It is that of a normal
/// variable's SD, and nearly that of Cpk (A. F. Bissell, Appl. Stat. 39 (1990) 331; from memory).
double capability_u95_share(std::size_t n);

}  // namespace windway
