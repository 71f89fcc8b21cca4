// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/breath.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <limits>
#include <map>
#include <utility>

#include "breath/bend.hpp"
#include "breath/blow_scatter.hpp"
#include "breath/breath_warnings.hpp"
#include "breath/find_swells.hpp"
#include "units/coverage_factor.hpp"

namespace windway {
namespace {

bool is_told(const BlowHint& hint) {
  bool told = !hint.order.empty();
  for (const auto& blow : hint.blow_of_take) told |= blow.has_value();
  return told;
}

std::vector<bool> swells_among(const Blows& blows) {
  std::vector<bool> swells;
  for (const auto& blow : blows.blow) swells.push_back(blow == Blow::swell);
  return swells;
}

std::vector<HoldPitch> hold_pitches(const Naming& naming, const Wander& wander) {
  std::vector<HoldPitch> pitches;
  for (std::size_t h = 0; h < naming.holds.size(); ++h) {
    const double reading_sd = naming.holds[h].hold.frequency_u95_cents / normal_u95_factor;
    // A thousandth of a cent keeps a synthetic, perfectly steady take from a variance of nothing.
    const double variance = mean_variance_cents2(wander, naming, h) + reading_sd * reading_sd + 1e-6;
    pitches.push_back({naming.holds[h].deviation_cents, variance, 0.0});
  }
  return pitches;
}

/// Cents per dB of each note, by the straight line through its holds; 0 where they are level.
std::map<NoteId, double> rough_cents_per_db(const Naming& naming, const std::vector<int>& group) {
  struct Sums {
    double n = 0, x = 0, y = 0, xx = 0, xy = 0;
  };
  std::map<NoteId, Sums> sums;
  for (std::size_t h = 0; h < group.size(); ++h) {
    if (group[h] < 0) continue;
    const double x = naming.holds[h].hold.level_db, y = naming.holds[h].deviation_cents;
    Sums& s = sums[naming.holds[h].note];
    s = {s.n + 1, s.x + x, s.y + y, s.xx + x * x, s.xy + x * y};
  }
  std::map<NoteId, double> slopes;
  for (const auto& [note, s] : sums) {
    const double spread = s.xx - s.x * s.x / s.n;
    slopes[note] = spread > 1.0 ? (s.xy - s.x * s.y / s.n) / spread : 0.0;  // 1 dB^2: less tells nothing
  }
  return slopes;
}

/// The pitches of the holds, brought to the reference time where there is a drift to correct.
struct DriftedPitches {
  std::vector<HoldPitch> pitch;
  std::optional<Drift> drift;
};

/// Sought within one take only: nobody knows how long the flute lay between two.
DriftedPitches without_drift(const Naming& naming, const std::vector<int>& group, std::vector<HoldPitch> pitch) {
  std::vector<DriftPoint> points;
  std::vector<std::size_t> hold_of_point;
  std::map<NoteId, double> cents_per_db = rough_cents_per_db(naming, group);
  DriftSpan span{std::numeric_limits<double>::infinity(), 0.0};
  for (std::size_t h = 0; h < naming.holds.size(); ++h) {
    const Hold& hold = naming.holds[h].hold;
    if (hold.take != naming.holds.front().hold.take) return {std::move(pitch), std::nullopt};
    span = {std::min(span.start_s, hold.start_s), std::max(span.end_s, hold.end_s)};
    if (group[h] < 0) continue;
    points.push_back({group[h], 0.5 * (hold.start_s + hold.end_s), pitch[h].cents, pitch[h].variance_cents2,
                      cents_per_db[naming.holds[h].note] * hold.level_db});
    hold_of_point.push_back(h);
  }
  const std::optional<DriftFit> fit = find_drift(points, span);
  if (!fit) return {std::move(pitch), std::nullopt};
  for (std::size_t i = 0; i < points.size(); ++i) {
    pitch[hold_of_point[i]].cents += fit->correction_cents[i];
    pitch[hold_of_point[i]].correction_sd_cents = fit->correction_sd_cents[i];
  }
  return {std::move(pitch), fit->drift};
}

/// No hold shows by itself that its blow as a whole was stronger or weaker than meant.
std::vector<HoldPitch> with_unequal_blows(const Naming& naming, const Blows& blows,
                                          const std::vector<double>& bend_cents, const Wander& wander,
                                          std::vector<HoldPitch> pitch) {
  const BlowScatter scatter = measure_blow_scatter(naming, blows, wander, bend_cents);
  const std::vector<double> at_blow = bend_at_blow(naming, blows, bend_cents, scatter.moderate_way);
  for (std::size_t h = 0; h < pitch.size(); ++h) pitch[h].variance_cents2 += std::pow(at_blow[h] * scatter.way_sd, 2);
  return pitch;
}

std::vector<HoldPitch> with_loose_repeats(std::vector<HoldPitch> pitch, const std::vector<int>& group) {
  const double excess = repeat_excess(pitch, group);
  for (HoldPitch& p : pitch) p.variance_cents2 *= excess;
  return pitch;
}

std::map<std::size_t, SwellResponse> swell_responses(const Naming& naming, const Blows& blows, const Wander& wander) {
  std::map<std::size_t, SwellResponse> swells;
  for (std::size_t h = 0; h < blows.blow.size(); ++h)
    if (blows.used[h] && blows.blow[h] == Blow::swell) swells[h] = swell_response(naming, h, wander);
  return swells;
}

double coverage_factor(const Wander& wander) {
  if (wander.shapes.empty()) return normal_u95_factor;
  return u95_factor(wander.degrees);
}

bool any_strength(const Blows& blows) {
  return std::any_of(blows.strength.begin(), blows.strength.end(), [](const auto& s) { return s.has_value(); });
}

}  // namespace

BreathResult measure_breath(const Naming& naming, const BlowHint& hint) {
  const Blows blows = is_told(hint) ? told_blows(naming, hint) : judge_blows(naming, find_swells(naming));
  const std::vector<int> group = blow_groups(naming, blows);
  const std::vector<double> bend_cents = bend_by_hold(naming, blows);
  const Wander wander = measure_wander(naming, blows.used, swells_among(blows), bend_cents);
  const DriftedPitches drifted = without_drift(naming, group, hold_pitches(naming, wander));
  const std::vector<HoldPitch> pitch =
      with_loose_repeats(with_unequal_blows(naming, blows, bend_cents, wander, drifted.pitch), group);
  const std::map<std::size_t, SwellResponse> swells = swell_responses(naming, blows, wander);
  const Loudness loudness = measure_loudness(naming, blows);
  const Witnesses witnesses{pitch,
                            with_common_range(swells),
                            measure_swell_scatter(swells),
                            loudness,
                            any_strength(blows),
                            drifted.drift.has_value(),
                            coverage_factor(wander)};
  const std::vector<NoteAnswer> answers = with_reach(answer_notes(naming, blows, witnesses), loudness);

  BreathResult result{blows.blow, blows.used, {}, drifted.drift, repeat_level_db(naming, group), blows.warnings};
  for (const NoteAnswer& a : answers) result.notes.push_back(a.note);
  std::ranges::copy(response_warnings(answers, loudness, naming), std::back_inserter(result.warnings));
  return result;
}

}  // namespace windway
