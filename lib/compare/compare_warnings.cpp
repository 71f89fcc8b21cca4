// SPDX-License-Identifier: GPL-3.0-or-later
#include "compare/compare_warnings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <boost/math/distributions/chi_squared.hpp>
#include <cmath>
#include <numbers>
#include <vector>

#include "compare/measured_move.hpp"
#include "slide/effort.hpp"
#include "slide/head_check.hpp"
#include "slide/law_of_slide.hpp"
#include "statistics/straight_line.hpp"
#include "units/coverage_factor.hpp"

namespace windway {
namespace {

constexpr std::size_t least_notes = 4;  // a line through fewer leaves no scatter that tells

/// SD of a note's change: how surely both were measured, and how well a player repeats a moderate blow.
double change_sd_cents(const NoteChange& change, const std::vector<NoteBreath>& notes, const NoteBreath& note) {
  const double repeat_cents = std::numbers::sqrt2 * usual_repeat_db * cents_per_db_of(notes, note);
  return std::hypot(change.change.u95_cents / normal_u95_factor, repeat_cents);
}

/// True if the changes scatter about what a move of the head and a change of warmth can make together as they would
/// once in a thousand by chance (chi-square).
bool changes_disagree(const Measurement& before, const Comparison& found) {
  const std::vector<SlideNote> lengths = slide_notes(before.breath.notes, before.speed_of_sound_m_s);
  std::vector<LinePoint> points;
  for (const NoteChange& change : found.notes) {
    const auto note = std::ranges::find(before.breath.notes, change.note, &NoteBreath::id);
    const double length_mm = lengths[static_cast<std::size_t>(note - before.breath.notes.begin())].effective_length_mm;
    const double sd_cents = change_sd_cents(change, before.breath.notes, *note);
    points.push_back({slide_change_cents(length_mm, 1.0), change.change.cents, 1.0 / (sd_cents * sd_cents)});
  }
  const StraightLine line = fit_line(points);
  const double squares = std::max(0.0, line.yy - line.slope * line.xy);
  constexpr double by_chance = 1e-3;
  const boost::math::chi_squared chance(static_cast<double>(points.size()) - 2.0);
  return squares > boost::math::quantile(boost::math::complement(chance, by_chance));
}

std::optional<Warning> other_instrument(const Measurement& before, const Measurement& after, const Comparison& found) {
  const Instrument &one = before.naming.instrument, &other = after.naming.instrument;
  if (one.lowest_midi != other.lowest_midi || one.kind != other.kind)
    return Warning{WarningCode::other_instrument,
                   "the two takes seem to be of different instruments. If they are of one, say --kind and --lowest (or "
                   "--instrument) for both."};
  if (found.notes.size() < least_notes || !changes_disagree(before, found)) return std::nullopt;
  return Warning{WarningCode::other_instrument,
                 "the notes changed by very different amounts, more than the head, warmth and breath explain: is it "
                 "another flute, or were holes worked on between the takes?"};
}

/// A move that the pitch contradicts, or that no head makes.
std::optional<Warning> doubtful_move(const MeasuredMove& move) {
  const double mm = std::abs(move.drawn_out_mm);
  const bool was_out = move.drawn_out_mm > 0;
  if (move.factor.factor + move.factor.u95 < 0)
    return Warning{WarningCode::move_contradicted,
                   fmt::format("the pitch went as if the head had been {0}, not {1}. If it was, say {2} {3:g} instead.",
                               was_out ? "pushed in" : "drawn out", was_out ? "drawn out" : "pushed in",
                               was_out ? "--pushed-in" : "--drawn-out", mm)};
  const bool is_sure = move.factor.u95 < law_u95_share({}) * std::abs(move.factor.factor);
  if (is_surely_implausible(move.factor) || (!move.is_telling && is_sure))
    return Warning{WarningCode::move_implausible,
                   fmt::format("the pitch changed as if the head had moved {:.1f} mm, not {:g}. Check how far it was "
                               "moved.",
                               mm * move.factor.factor, mm)};
  if (move.is_telling) return std::nullopt;
  return Warning{WarningCode::move_too_small,
                 "the move was too small to show how this flute differs from what the length of the tube predicts. "
                 "Move the head by 4 mm or more, warm the flute alike for both takes, and compare again."};
}

}  // namespace

bool same_recording(const Measurement& before, const Measurement& after) {
  return std::ranges::any_of(before.takes, [&](const TakeInfo& one) {
    return !one.sha256.empty() && std::ranges::find(after.takes, one.sha256, &TakeInfo::sha256) != after.takes.end();
  });
}

Warnings compare_warnings(const Measurement& before, const Measurement& after, const Comparison& found) {
  Warnings warnings;
  if (same_recording(before, after))
    warnings.push_back(
        {WarningCode::same_recording, "both are the same recording, so nothing can have changed; compare two takes."});
  if (const auto warning = other_instrument(before, after, found)) warnings.push_back(*warning);
  if (before.settings.air.temperature_c != after.settings.air.temperature_c && !before.settings.quote_at_c) {
    warnings.push_back({WarningCode::other_temperature,
                        "the two takes were given different bore temperatures, and the change includes that. Measure "
                        "both with the same --quote-at to leave it out."});
  }
  if (found.move && !same_recording(before, after))
    if (const auto warning = doubtful_move(*found.move)) warnings.push_back(*warning);
  return warnings;
}

}  // namespace windway
