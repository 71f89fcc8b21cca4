// SPDX-License-Identifier: GPL-3.0-or-later
#include "slide/warming.hpp"

#include <gtest/gtest.h>

namespace windway {
namespace {

TEST(AsWarming, OneDegreeIsThreeCents) {
  // The speed of sound in dry air, Cramer 1993: 343.3672 m/s at 20, 346.2755 m/s at 25 degrees C, 314 ppm CO2.
  Air air;
  air.temperature_c = 20.0;
  EXPECT_NEAR(as_warming_c(cents_between(343.3672, 346.2755), air), 5.0, 0.002);
  EXPECT_NEAR(as_warming_c(-2.95, air), -1.0, 0.01);
}

TEST(NotWarmYet, IsSaidOnlyOfARiseThatIsSureAndMatters) {
  EXPECT_TRUE(drift_warning(Drift{9.0, 1.0, 30.0}, false));
  EXPECT_NE(drift_warning(Drift{9.0, 1.0, 30.0}, false)->message.find("Play two minutes"), std::string::npos);
  EXPECT_FALSE(drift_warning(Drift{2.0, 0.5, 30.0}, false));  // nobody hears it
  EXPECT_FALSE(drift_warning(Drift{6.0, 7.0, 30.0}, false));  // not sure
  EXPECT_EQ(drift_warning(Drift{-9.0, 1.0, 30.0}, false)->code, WarningCode::pitch_drifted);
  EXPECT_EQ(drift_warning(Drift{9.0, 1.0, 30.0}, true)->code, WarningCode::pitch_drifted);
  EXPECT_EQ(drift_warning(Drift{9.0, 1.0, 30.0, 17.0}, false)->code, WarningCode::head_moved);
  EXPECT_FALSE(drift_warning(std::nullopt, false));
}

}  // namespace
}  // namespace windway
