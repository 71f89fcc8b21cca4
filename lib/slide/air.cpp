// SPDX-License-Identifier: GPL-3.0-or-later
#include "slide/air.hpp"

#include <cassert>
#include <cmath>

namespace windway {
namespace {

/// Saturation vapour pressure over water: R. S. Davis, Metrologia 29 (1992) 67.
double saturation_pressure_pa(double temperature_k) {
  return std::exp(1.2378847e-5 * temperature_k * temperature_k - 1.9121316e-2 * temperature_k + 33.93711047 -
                  6.3431645e3 / temperature_k);
}

/// Mole fraction of water vapour, with the enhancement factor of Cramer's appendix (1.00062 + ...).
double vapour_fraction(const Air& air) {
  const double t = air.temperature_c;
  const double enhancement = 1.00062 + 3.14e-8 * air.pressure_pa + 5.6e-7 * t * t;
  return air.relative_humidity * enhancement * saturation_pressure_pa(t + 273.15) / air.pressure_pa;
}

}  // namespace

double speed_of_sound_m_s(const Air& air) {
  assert(air.pressure_pa > 0 && air.relative_humidity >= 0 && air.co2_fraction >= 0);
  const double t = air.temperature_c;
  const double p = air.pressure_pa;
  const double water = vapour_fraction(air);
  const double co2 = air.co2_fraction;
  // Cramer's a0 to a15, in his order of terms.
  return 331.5024 + 0.603055 * t - 0.000528 * t * t                //
         + (51.471935 + 0.1495874 * t - 0.000782 * t * t) * water  //
         + (-1.82e-7 + 3.73e-8 * t - 2.93e-10 * t * t) * p         //
         + (-85.20931 - 0.228525 * t + 5.91e-5 * t * t) * co2      //
         - 2.835149 * water * water - 2.15e-13 * p * p + 29.179762 * co2 * co2 + 0.000486 * water * p * co2;
}

std::optional<Warning> air_warning(const Air& air) {
  constexpr double least_c = 0, most_c = 30, least_pa = 75e3, most_pa = 102e3, most_water = 0.06, most_co2 = 0.01;
  const bool is_within = air.temperature_c >= least_c && air.temperature_c <= most_c && air.pressure_pa >= least_pa &&
                         air.pressure_pa <= most_pa && vapour_fraction(air) <= most_water &&
                         air.co2_fraction <= most_co2;
  if (is_within) return std::nullopt;
  return Warning{
      WarningCode::air_out_of_range,
      "the air in the bore is outside the range of the formula for the speed of sound (0 to 30 degrees C, carbon "
      "dioxide to 1 %; Cramer 1993). Millimetres may be off by a few parts in a thousand more. Give a bore temperature "
      "in that range, and leave out --humidity and --co2: in a blown bore they nearly cancel."};
}

}  // namespace windway
