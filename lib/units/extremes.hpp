// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <span>

namespace windway {

struct Extremes {
  float lowest = 0;
  float highest = 0;
};

/// The lowest and the highest of the values; there must be one.
Extremes extremes_of(std::span<const float> values);

}  // namespace windway
