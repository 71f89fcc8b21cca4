// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "slide/effort.hpp"
#include "slide/slide.hpp"

namespace windway {

/// How far the head may be moved from where it stands, and what stops it at either end (absent: only the search ends).
struct HeadSpan {
  double lowest_mm = 0;   ///< pushing in, at most 0
  double highest_mm = 0;  ///< drawing out, at least 0
  std::optional<SlideLimit> at_lowest;
  std::optional<SlideLimit> at_highest;
};

/// Without a known travel 60 mm either way, but never so far in that half of the shortest note's length is used up.
/// A known travel with an unknown place of the head lets it move by the travel either way.
HeadSpan head_span(const Head& head, const std::vector<SlideNote>& notes);

/// The move that makes the mean cost least, to 1e-9 mm; deterministic. Of equal costs the one farther in.
double least_cost_slide_mm(const std::vector<SlideNote>& notes, const HeadSpan& span);

/// The limit that keeps the head from a still better place, if any; a fixed head always is at its limit.
std::optional<SlideLimit> limit_met(const std::vector<SlideNote>& notes, const HeadSpan& span, double slide_mm);

/// Shift of all targets that makes the cost least with the head moved by `slide_mm`: how far the scale stands from
/// the reference pitch, + sharp. Where a range of shifts costs the same, its middle.
double home_shift_cents(const std::vector<SlideNote>& notes, double slide_mm);

}  // namespace windway
