// SPDX-License-Identifier: GPL-3.0-or-later
// Speed of sound against published formulas.
#include "slide/air.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>

#include "units/units.hpp"

namespace windway {
namespace {

double sound_m_s(double temperature_c, double humidity, double co2 = 400e-6, double pressure_pa = 101325.0) {
  return speed_of_sound_m_s({temperature_c, humidity, co2, pressure_pa});
}

struct AirRow {
  double temperature_c;
  double dry_314_ppm;
  double dry, rh_30, rh_50, rh_70, rh_100;  ///< CO2 400 ppm
};

// O. Cramer, J. Acoust. Soc. Am. 93 (1993) 2510-2516, formula of p. 2514 with its Table III, at 101325 Pa; vapour
// pressure by R. S. Davis, Metrologia 29 (1992) 67. The table is arithmetic from that formula, made independently.
constexpr std::array<AirRow, 7> cramer{{
    {0, 331.4550, 331.4477, 331.5412, 331.6035, 331.6659, 331.7594},
    {5, 334.4749, 334.4674, 334.6028, 334.6931, 334.7833, 334.9186},
    {10, 337.4669, 337.4593, 337.6524, 337.7811, 337.9098, 338.1027},
    {15, 340.4310, 340.4233, 340.6948, 340.8757, 341.0565, 341.3277},
    {20, 343.3672, 343.3595, 343.7360, 343.9869, 344.2376, 344.6135},
    {25, 346.2755, 346.2677, 346.7833, 347.1268, 347.4701, 347.9845},
    {30, 349.1560, 349.1481, 349.8456, 350.3102, 350.7743, 351.4698},
}};

TEST(SpeedOfSound, IsCramersToAMillimetrePerSecond) {
  for (const AirRow& row : cramer) {
    EXPECT_NEAR(sound_m_s(row.temperature_c, 0, 314e-6), row.dry_314_ppm, 1e-3) << row.temperature_c;
    EXPECT_NEAR(sound_m_s(row.temperature_c, 0), row.dry, 1e-3) << row.temperature_c;
    EXPECT_NEAR(sound_m_s(row.temperature_c, 0.3), row.rh_30, 1e-3) << row.temperature_c;
    EXPECT_NEAR(sound_m_s(row.temperature_c, 0.5), row.rh_50, 1e-3) << row.temperature_c;
    EXPECT_NEAR(sound_m_s(row.temperature_c, 0.7), row.rh_70, 1e-3) << row.temperature_c;
    EXPECT_NEAR(sound_m_s(row.temperature_c, 1.0), row.rh_100, 1e-3) << row.temperature_c;
  }
}

TEST(SpeedOfSound, KeepsToTheLawOfIso9613WithinACent) {
  // ISO 9613-1:1993, formula A.5: 343.2 sqrt(T / 293.15) for dry air; sources differ by 0.2 m/s, a cent.
  for (double t = 0; t <= 30; t += 5) {
    EXPECT_NEAR(sound_m_s(t, 0), 343.2 * std::sqrt((t + 273.15) / 293.15), 0.2) << t;
  }
}

TEST(SpeedOfSound, ByDefaultIsDryOutdoorAirAt25Degrees) {
  EXPECT_NEAR(speed_of_sound_m_s(Air{}), 346.2677, 1e-3);  // Cramer (1993), as above
}

TEST(SpeedOfSound, RisesThreeCentsADegree) {
  // Ideal gas, c ~ sqrt(T): 1731.234 / (2 T) = 2.953 cents a degree at 20 degrees C.
  const auto cents_a_degree = [](double t, double humidity) {
    return cents_between(sound_m_s(t - 0.5, humidity), sound_m_s(t + 0.5, humidity));
  };
  EXPECT_NEAR(cents_a_degree(20, 0), cents_per_neper / (2 * 293.15), 0.01);
  EXPECT_NEAR(cents_per_neper / (2 * 293.15), 2.953, 5e-4);
  // Cramer (1993), with the moisture at constant relative humidity.
  EXPECT_NEAR(cents_a_degree(20, 0), 2.947, 1e-3);
  EXPECT_NEAR(cents_a_degree(20, 0.5), 3.144, 1e-3);
  EXPECT_NEAR(cents_a_degree(20, 1.0), 3.340, 1e-3);
  EXPECT_NEAR(cents_between(sound_m_s(20, 0), sound_m_s(25, 0)), 14.602, 2e-3);
  EXPECT_NEAR(cents_between(sound_m_s(20, 0.5), sound_m_s(25, 0.5)), 15.731, 2e-3);
}

TEST(AirWarning, IsGivenOutsideTheRangeOfTheFormula) {
  // O. Cramer (1993): 0 to 30 degrees C, 75 to 102 kPa, water to 0.06, CO2 to 0.01.
  EXPECT_FALSE(air_warning(Air{}));
  EXPECT_FALSE(air_warning({30, 1.0, 0.01, 101325}));
  for (const Air& beyond :
       {Air{31, 0, 4e-4, 101325}, Air{-1, 0, 4e-4, 101325}, Air{25, 0, 0.02, 101325}, Air{25, 0, 4e-4, 70e3}}) {
    ASSERT_TRUE(air_warning(beyond));
    EXPECT_EQ(air_warning(beyond)->code, WarningCode::air_out_of_range);
  }
}

TEST(SpeedOfSound, FallsFourAndAHalfCentsForEachPerCentOfBreathGas) {
  // Cramer (1993) up to 1 % CO2.
  EXPECT_NEAR(cents_between(sound_m_s(20, 0, 0.0), sound_m_s(20, 0, 0.01)), -4.52, 0.03);
  // L. Fuks (1996), as cited by later authors: v (1 - 0.26 p), -4.51 cents a per cent.
  EXPECT_NEAR(cents_between(sound_m_s(20, 0, 0.0), sound_m_s(20, 0, 0.01)), cents_per_neper * std::log(1 - 0.0026),
              0.1);
}

TEST(SpeedOfSound, HardlyMindsTheBarometer) {
  // Cramer (1993): 101.325 to 90 kPa at 20 degrees C and 50 %: +0.37 cent.
  EXPECT_NEAR(cents_between(sound_m_s(20, 0.5), sound_m_s(20, 0.5, 400e-6, 90e3)), 0.37, 0.02);
}

TEST(SpeedOfSound, MoistureAndBreathGasOfABlownBoreCancel) {
  // The reason for the default: saturated at 25 degrees C + 8.6 cents, 2 % CO2 - 8.9 cents (Cramer, beyond his range).
  const double blown_m_s = sound_m_s(25, 1.0, 0.02);
  EXPECT_NEAR(cents_between(speed_of_sound_m_s(Air{}), blown_m_s), 0.0, 0.6);
}

}  // namespace
}  // namespace windway
