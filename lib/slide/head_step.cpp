// SPDX-License-Identifier: GPL-3.0-or-later
#include "slide/head_step.hpp"

#include <algorithm>
#include <cmath>

#include "statistics/straight_line.hpp"

namespace windway {
namespace {

constexpr std::size_t least_notes_a_side = 3;
constexpr double least_slide_mm = 2.5;  // simulated flutes whose head stays seem to move by less
constexpr double least_errors = 3.5;

/// Deviation against what a mm of drawing out does from the step on.
StraightLine line_with_step(const std::vector<TimedNote>& notes, std::size_t first) {
  std::vector<LinePoint> points;
  for (std::size_t i = 0; i < notes.size(); ++i)
    points.push_back({i < first ? 0.0 : -notes[i].cents_per_mm, notes[i].cents});
  return fit_line(points);
}

double residual_squares(const StraightLine& line) { return line.yy - line.slope * line.xy; }

}  // namespace

std::optional<HeadStep> find_head_step(std::vector<TimedNote> notes) {
  std::ranges::sort(notes, {}, &TimedNote::time_s);
  std::optional<StraightLine> best;
  NoteId first;
  for (std::size_t at = least_notes_a_side; at + least_notes_a_side <= notes.size(); ++at) {
    const StraightLine line = line_with_step(notes, at);
    if (best && residual_squares(line) >= residual_squares(*best)) continue;
    best = line;
    first = notes[at].id;
  }
  if (!best) return std::nullopt;
  const double variance = residual_squares(*best) / static_cast<double>(notes.size() - 2);
  const bool is_sure = best->slope * best->slope * best->xx > least_errors * least_errors * variance;
  return is_sure && std::abs(best->slope) > least_slide_mm ? std::optional(HeadStep{first, best->slope}) : std::nullopt;
}

}  // namespace windway
