// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>

#include "breath/breath.hpp"
#include "slide/air.hpp"

namespace windway {

/// How unlike two takes are of a flute that its player warmed up for both, SD of what moves all notes alike: a fifth of
/// a degree (an estimate of our own; 2.9 cents a degree, Cramer 1993).
inline constexpr double alike_sd_cents = 0.6;

/// How much the bore would have to warm for the pitch to rise by so many cents, degrees C.
double as_warming_c(double cents, const Air& air);

/// What a take's drift says, surely and by more than is worth a word: the pitch changed all at once (code head_moved),
/// it rose, as that of a flute that is not warm yet (not_warm_yet), or it fell, or rose although the flute was said to
/// be warm (pitch_drifted).
std::optional<Warning> drift_warning(const std::optional<Drift>& drift, bool is_said_warm);

}  // namespace windway
