// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>

namespace windway {

/// The factor of an expanded uncertainty at 95 % for `degrees` of freedom, which must be positive (Student's t; JCGM
/// 100:2008, table G.2).
double u95_factor(double degrees);

/// The same for each of so many estimates held against 0 at once: in 95 of 100 such sets none is beyond it by chance
/// (Z. Sidak, J. Amer. Statist. Assoc. 62 (1967) 626, from memory). `comparisons` is 1 at least.
double u95_factor(double degrees, std::size_t comparisons);

}  // namespace windway
