// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "scale/naming.hpp"

namespace windway {

/// By hold: whether it was blown through the strengths (up, down, there and back) rather than at one. Two explanations
/// of every hold, with parameters common to the take, and the likeliest division of the holds among them:
///
///   a blow    strength(t) = s + fall t; the fall in dB a second common to the blows, each with a deviation of its own
///   a swell   strength(t) = s + sweep x shape(t); the sweep in dB common, likewise; shape one of four
///
/// Strength is what two of level, breath noise and pitch agree on: a room bends the level as the pitch moves, noise may
/// drown in the room's, and a stiff note's pitch stays. Swells of one note are about equally strong as a whole; blows
/// may differ. A hold without a curve, shorter than a swell can be, or outside the scale is none.
std::vector<bool> find_swells(const Naming& naming);

}  // namespace windway
