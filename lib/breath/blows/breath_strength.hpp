// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <vector>

#include "breath/blows/pitch_curve.hpp"

namespace windway {

/// SD with which a player repeats a blow, in dB of level (common practice, no source).
inline constexpr double repeat_db = 1.0;

/// What level, breath noise and pitch each say of one quantity. The middle one counts: a room bends the level as the
/// pitch moves, the breath's noise may drown in the room's, and a stiff note's pitch stays, but seldom two at once.
double middle_of(std::array<double, 3> values);

/// The same of a change in each, in dB of level: by what the breath usually does to the other two.
double in_level_db(double level_db, double noise_db, double cents);

/// How hard the breath blew at each point of a curve, in standard deviations of the curve, about none.
std::vector<double> breath_strength(const PitchCurve& curve);

}  // namespace windway
