// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cmath>

#include "units/units.hpp"

namespace windway {

// The law of the slide: drawing the head out by s mm lengthens a note's effective length L, so the note falls by
// 1200 log2(1 + s / L) cents, times the instrument's own factor.

/// Change of a note of that effective length when the head is drawn out (+) by `slide_mm`, cents, + sharper.
inline double slide_change_cents(double length_mm, double slide_mm, double factor = 1.0) {
  return factor * (-cents_per_neper * std::log1p(slide_mm / length_mm));
}

/// The inverse: mm to draw out (+) so that the note changes by `cents`, + sharper.
inline double slide_for_change_mm(double length_mm, double cents, double factor = 1.0) {
  return length_mm * std::expm1(-cents / (factor * cents_per_neper));
}

/// Cents that the note falls a mm drawn out, at the beginning; positive.
inline double slide_cents_per_mm(double length_mm, double factor = 1.0) { return factor * cents_per_neper / length_mm; }

/// mm to draw out for each cent that the note shall fall.
inline double slide_mm_per_cent(double length_mm, double factor = 1.0) {
  return length_mm / (factor * cents_per_neper);
}

}  // namespace windway
