// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/breath.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <limits>
#include <map>
#include <utility>

#include "breath/blows/find_swells.hpp"
#include "breath/breath_warnings.hpp"
#include "breath/response/bend.hpp"
#include "breath/response/blow_scatter.hpp"
#include "breath/response/response.hpp"
#include "statistics/straight_line.hpp"
#include "units/coverage_factor.hpp"
#include "units/order_statistics.hpp"

namespace windway {
namespace {

Blows find_blows(const Naming& naming, const BlowHint& hint) {
  return says_anything(hint) ? blows_as_said(naming, hint) : judge_blows(naming, find_swells(naming));
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
    pitches.push_back({deviation_as_brought_cents(naming.holds[h]), variance, 0.0});
  }
  return pitches;
}

/// Cents per dB of each note, by the straight line through its holds; 0 where they are level.
std::map<NoteId, double> rough_cents_per_db(const Naming& naming, const std::vector<int>& group) {
  std::map<NoteId, std::vector<LinePoint>> points;
  for (std::size_t h = 0; h < group.size(); ++h)
    if (group[h] >= 0)
      points[naming.holds[h].note].push_back(
          {naming.holds[h].hold.level_db, deviation_as_brought_cents(naming.holds[h])});
  std::map<NoteId, double> slopes;
  for (const auto& [note, of_note] : points) {
    const StraightLine line = fit_line(of_note);
    slopes[note] = line.xx > 1.0 ? line.slope : 0.0;  // less than 1 dB^2 shows no slope
  }
  return slopes;
}

/// The pitches of the holds at the reference time of their take, where there is a drift to correct.
struct CorrectedPitches {
  std::vector<HoldPitch> pitch;
  std::optional<Drift> drift;            ///< of one take: over several there is none to tell
  bool drift_is_known = false;           ///< in every take
  std::vector<double> later_rise_cents;  ///< by hold: what its take may have risen by after it, unseen (u95)
};

/// The drift of the take that these holds make up, and the holds that it was sought in.
struct TakeDrift {
  DriftSpan span{std::numeric_limits<double>::infinity(), 0.0};
  std::optional<DriftFit> fit;
  std::vector<std::size_t> hold_of_point;
};

TakeDrift drift_of_take(const Naming& naming, const std::vector<int>& group, const std::vector<HoldPitch>& pitch,
                        const std::vector<std::size_t>& holds, std::map<NoteId, double>& cents_per_db) {
  TakeDrift take;
  std::vector<DriftPoint> points;
  for (const std::size_t h : holds) {
    const Hold& hold = naming.holds[h].hold;
    take.span = {std::min(take.span.start_s, hold.start_s), std::max(take.span.end_s, hold.end_s)};
    if (group[h] < 0) continue;
    points.push_back({group[h], 0.5 * (hold.start_s + hold.end_s), pitch[h].cents, pitch[h].variance_cents2,
                      cents_per_db[naming.holds[h].note] * hold.level_db});
    take.hold_of_point.push_back(h);
  }
  take.fit = find_drift(points, take.span);
  return take;
}

/// What a flute that was cold when the take began may have risen by after this hold.
double later_rise_cents(const Hold& hold, const DriftSpan& span) {
  return cold_rise_cents(0.5 * (hold.start_s + hold.end_s) - span.start_s, span.end_s - span.start_s);
}

/// Within each take by itself: how long the flute lay between two is not known.
CorrectedPitches corrected_for_drift(const Naming& naming, const std::vector<int>& group,
                                     std::vector<HoldPitch> pitch) {
  std::map<int, std::vector<std::size_t>> holds_of_take;
  for (std::size_t h = 0; h < naming.holds.size(); ++h) holds_of_take[naming.holds[h].hold.take].push_back(h);
  std::map<NoteId, double> cents_per_db = rough_cents_per_db(naming, group);
  CorrectedPitches out{std::move(pitch), std::nullopt, true, std::vector<double>(group.size(), 0.0)};
  for (const auto& [take, holds] : holds_of_take) {
    const auto [span, fit, hold_of_point] = drift_of_take(naming, group, out.pitch, holds, cents_per_db);
    out.drift_is_known = out.drift_is_known && fit;
    if (!fit) {
      for (const std::size_t h : holds) out.later_rise_cents[h] = later_rise_cents(naming.holds[h].hold, span);
      continue;
    }
    for (std::size_t i = 0; i < hold_of_point.size(); ++i) {
      out.pitch[hold_of_point[i]].cents += fit->correction_cents[i];
      out.pitch[hold_of_point[i]].correction_sd_cents = fit->correction_sd_cents[i];
    }
    if (holds_of_take.size() == 1) out.drift = fit->drift;
  }
  return out;
}

/// The flute was warm: nothing of it warms unseen.
CorrectedPitches of_warm_flute(CorrectedPitches corrected) {
  corrected.drift_is_known = true;
  std::ranges::fill(corrected.later_rise_cents, 0.0);
  return corrected;
}

std::vector<HoldPitch> with_blow_scatter(const Naming& naming, const Blows& blows,
                                         const std::vector<double>& bend_cents, const Wander& wander,
                                         std::vector<HoldPitch> pitch) {
  const BlowScatter scatter = measure_blow_scatter(naming, blows, wander, bend_cents);
  const std::vector<double> slope_cents = bend_at_blow(naming, blows, bend_cents, scatter.moderate_strength);
  for (std::size_t h = 0; h < pitch.size(); ++h)
    pitch[h].variance_cents2 += std::pow(slope_cents[h] * scatter.strength_sd, 2);
  return pitch;
}

std::vector<HoldPitch> with_repeat_excess(std::vector<HoldPitch> pitch, const std::vector<int>& group) {
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

double u95_factor_of(const Wander& wander) {
  return wander.shapes.empty() ? normal_u95_factor : u95_factor(wander.degrees);
}

std::vector<double> correction_cents(const Naming& naming, const CorrectedPitches& corrected) {
  std::vector<double> cents;
  for (std::size_t h = 0; h < naming.holds.size(); ++h)
    cents.push_back(corrected.pitch[h].cents - naming.holds[h].deviation_cents);
  return cents;
}

/// All notes were blown at two strengths, so near each other that one of them may be moderate.
bool may_be_any_strengths(const std::vector<NoteBreath>& notes) {
  constexpr double least_range_db = 6.0;  // simulated players, soft to hard: from 5.7; moderate to either: to 5.7
  std::vector<double> ranges_db;
  for (const NoteBreath& note : notes) {
    if (!note.moderate_is_midway || !note.spread || !note.level_range_db) return false;
    ranges_db.push_back(*note.level_range_db);
  }
  const auto range_db = median_of(ranges_db);
  return range_db && *range_db < least_range_db;
}

}  // namespace

BreathResult measure_breath(const Naming& naming, const BlowHint& hint) {
  const Blows blows = find_blows(naming, hint);
  const std::vector<int> group = blow_groups(naming, blows);
  const std::vector<double> bend_cents = bend_by_hold(naming, blows);
  const Wander wander = measure_wander(naming, blows.used, swells_among(blows), bend_cents);
  CorrectedPitches corrected = corrected_for_drift(naming, group, hold_pitches(naming, wander));
  if (hint.is_warm) corrected = of_warm_flute(std::move(corrected));
  const std::vector<HoldPitch> scattered = with_blow_scatter(naming, blows, bend_cents, wander, corrected.pitch);
  const std::map<std::size_t, SwellResponse> swells = swell_responses(naming, blows, wander);
  const HoldReadings readings{with_repeat_excess(scattered, group), with_common_range(swells),
                              measure_swell_scatter(swells),        !corrected.drift_is_known,
                              corrected.later_rise_cents,           u95_factor_of(wander)};
  const Loudness loudness = measure_loudness(naming, blows);
  const std::vector<NoteResponse> responses = note_responses(naming, blows, readings, loudness);

  BreathResult result{blows.blow,
                      blows.used,
                      correction_cents(naming, corrected),
                      {},
                      corrected.drift,
                      repeat_level_db(naming, group),
                      blows.warnings};
  for (const NoteResponse& response : responses) result.notes.push_back(response.note);
  std::ranges::copy(response_warnings(responses, loudness, naming, hint), std::back_inserter(result.warnings));
  if (!says_anything(hint) && may_be_any_strengths(result.notes)) result.warnings.push_back(strengths_unknown());
  return result;
}

}  // namespace windway
