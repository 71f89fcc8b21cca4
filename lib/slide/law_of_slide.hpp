// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cmath>

#include "units/units.hpp"

namespace windway {

// The law of the slide: drawing the head out by s mm lengthens a note's effective length L, so the note falls by
// 1200 log2(1 + s / L) cents, times the instrument's own factor.

/// What drawing the head out by `slide_mm` does to a note of that effective length, cents.
inline double slide_change_cents(double length_mm, double slide_mm, double factor = 1.0) {
  return factor * (-cents_per_neper * std::log1p(slide_mm / length_mm));
}

/// The slide that changes it by so many cents: the inverse.
inline double slide_for_change_mm(double length_mm, double cents, double factor = 1.0) {
  return length_mm * std::expm1(-cents / (factor * cents_per_neper));
}

/// How fast a note of that length falls as the head is drawn out; positive.
inline double slide_cents_per_mm(double length_mm, double factor = 1.0) { return factor * cents_per_neper / length_mm; }

/// One over it.
inline double slide_mm_per_cent(double length_mm, double factor = 1.0) {
  return length_mm / (factor * cents_per_neper);
}

}  // namespace windway
