// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>

#include "units/units.hpp"
#include "warning.hpp"

namespace windway {

/// The air in the bore. Default humidity and CO2: dry outdoor air, because in a blown bore the moisture (saturated:
/// + 8.6 cents at 25 degrees C) and some 2 % of breath CO2 (- 8.9 cents) cancel (both from Cramer's formula).
struct Air {
  double temperature_c = 25.0;
  double relative_humidity = 0.0;  ///< 0 to 1
  double co2_fraction = 400e-6;    ///< mole fraction
  double pressure_pa = 101325.0;
};

/// Speed of sound by O. Cramer, J. Acoust. Soc. Am. 93 (1993) 2510, eq. on p. 2514; good to 300 ppm from 0 to 30
/// degrees C, 75 to 102 kPa, CO2 to 1 %.
double speed_of_sound_m_s(const Air& air);

/// Where the formula has not been tried: a warning (code air_out_of_range) with what to do.
std::optional<Warning> air_warning(const Air& air);

/// What a change of the air in the bore does to every note, cents.
inline double air_change_cents(const Air& from, const Air& to) {
  return cents_between(speed_of_sound_m_s(from), speed_of_sound_m_s(to));
}

}  // namespace windway
