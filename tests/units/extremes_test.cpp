// SPDX-License-Identifier: GPL-3.0-or-later
#include "units/extremes.hpp"

#include <gtest/gtest.h>

#include <vector>

namespace windway {
namespace {

TEST(ExtremesOf, FindsThemWhereverTheyStand) {
  for (const std::size_t count : {1U, 2U, 5U, 16U, 17U, 32U, 49U}) {
    for (std::size_t at = 0; at < count; ++at) {
      std::vector<float> values(count, 0.5f);
      values[at] = -0.25f;
      values[(at + count / 2) % count] = count == 1 ? -0.25f : 0.75f;
      const Extremes found = extremes_of(values);
      EXPECT_EQ(found.lowest, -0.25f) << at << " of " << count;
      EXPECT_EQ(found.highest, values[(at + count / 2) % count]) << at << " of " << count;
    }
  }
}

}  // namespace
}  // namespace windway
