// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/response/response.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <utility>

#include "breath/response/drift.hpp"
#include "statistics/robust_centre.hpp"

namespace windway {
namespace {

constexpr double together_s = 10.0;     ///< blows nearer in time than this warm by no more than their u95
constexpr double stray_sd_cents = 2.0;  ///< of a blow about moderate: 1 dB at 2 cents a dB (common practice, no source)
constexpr double level_u95_db = 0.6;    ///< of a range between two blows of one note: repeats agree to about 0.3 dB
/// SD of moderate about a lone soft or hard blow where fewer than four notes show it.
constexpr double unknown_distance_sd_cents = 15.0;
constexpr std::size_t least_notes_for_sd = 4;

using BlowMeans = std::array<std::optional<BlowMean>, 3>;  ///< soft, moderate, hard

CentsEstimate stated(const BlowMean& mean, double u95_factor) {
  return {mean.cents, u95_factor * std::hypot(std::sqrt(mean.variance_cents2), mean.correction_sd_cents)};
}

BlowMeans means_by_blow(const Naming& naming, const Blows& blows, const std::vector<HoldPitch>& pitch,
                        const std::vector<std::size_t>& holds) {
  BlowMeans means;
  std::map<int, std::vector<std::size_t>> alike;
  for (std::size_t h : holds)
    if (blows.strength[h]) alike[*blows.strength[h]].push_back(h);
  for (const auto& [strength, of_strength] : alike) {
    const auto& blow = blows.blow[of_strength.front()];
    if (!blow) continue;
    std::optional<BlowMean>& mean = means[static_cast<std::size_t>(*blow)];
    const BlowMean own = mean_of_holds(naming, pitch, of_strength);
    mean = mean ? midway(*mean, own) : own;
  }
  const auto [lower, upper] = middle_strengths(blows.strengths);
  if (!alike.contains(lower) || !alike.contains(upper)) means[static_cast<std::size_t>(Blow::moderate)].reset();
  return means;
}

/// By the farthest apart in any take; between takes nobody knows how long the flute lay.
double warming_allowance_cents(const BlowMean& soft, const BlowMean& hard) {
  const double between_takes_cents = cold_rise_cents(0.0, HUGE_VAL);
  double apart_s = 0;
  for (const auto& [take, time_s] : soft.time_s_by_take) {
    const auto other = hard.time_s_by_take.find(take);
    if (other == hard.time_s_by_take.end()) return between_takes_cents;
    apart_s = std::max(apart_s, std::abs(other->second - time_s));
  }
  if (soft.time_s_by_take.size() != hard.time_s_by_take.size()) return between_takes_cents;
  return apart_s > together_s ? cold_rise_cents(0.0, apart_s) : 0.0;
}

bool another_cue_agrees(const BlowMean& soft, const BlowMean& hard) {
  return hard.level_db > soft.level_db || hard.noise_db > soft.noise_db || hard.colour_db > soft.colour_db;
}

/// `note` with the range in level and, where its spread is known, with cents per dB.
NoteBreath with_slope(NoteBreath note, double range_db) {
  note.level_range_db = range_db;
  if (!note.spread || range_db <= 0) return note;
  const double slope = note.spread->cents / range_db;
  note.cents_per_db =
      CentsEstimate{slope, std::hypot(note.spread->u95_cents / range_db, slope * level_u95_db / range_db)};
  return note;
}

/// Hard minus soft without the warming between them; both must be there.
CentsEstimate difference(const BlowMeans& means, double u95_factor) {
  return {means[2]->cents - means[0]->cents,
          u95_factor * std::sqrt(means[0]->variance_cents2 + means[2]->variance_cents2)};
}

/// `note` with its spread, where pitch and another cue agree that there is one.
NoteBreath with_spread(NoteBreath note, const BlowMeans& means, const HoldReadings& readings) {
  const CentsEstimate spread = difference(means, readings.u95_factor);
  if (spread.cents <= spread.u95_cents || !another_cue_agrees(*means[0], *means[2])) return note;
  const double allowance = readings.may_have_warmed ? warming_allowance_cents(*means[0], *means[2]) : 0.0;
  if (allowance > 0) note.warming_u95_cents = allowance;
  note.spread = CentsEstimate{spread.cents, std::hypot(spread.u95_cents, allowance)};
  return note;
}

/// `note` with soft, moderate and hard. Without those blows moderate is the mean of `all` its holds.
NoteBreath with_blows(NoteBreath note, const BlowMeans& means, const BlowMean& all, double u95_factor) {
  const auto& [soft, moderate, hard] = means;
  if (soft) note.soft = stated(*soft, u95_factor);
  if (hard) note.hard = stated(*hard, u95_factor);
  note.moderate_is_midway = !moderate && soft && hard;
  const BlowMean at_moderate = note.moderate_is_midway ? midway(*soft, *hard) : moderate.value_or(all);
  note.moderate = stated(at_moderate, u95_factor);
  return note;
}

bool any_strength(const Blows& blows) {
  return std::ranges::any_of(blows.strength, [](const auto& strength) { return strength.has_value(); });
}

NoteResponse response_to_blows(NoteBreath note, const BlowMeans& means, const BlowMean& all, bool strengths_known,
                               const HoldReadings& readings, const Loudness& loudness) {
  note = with_blows(std::move(note), means, all, readings.u95_factor);
  if (!strengths_known && note.holds == 1) note.stray_u95_cents = normal_u95_factor * stray_sd_cents;
  if (!means[0] || !means[2]) return {std::move(note), false, strengths_known && !means[1]};
  const CentsEstimate rise = difference(means, readings.u95_factor);
  note = with_spread(std::move(note), means, readings);
  if (const auto steps = loudness.steps.find(note.id); steps != loudness.steps.end())
    note = with_slope(std::move(note), steps->second.below_db + steps->second.above_db);
  return {std::move(note), rise.cents < -rise.u95_cents, false};
}

CentsEstimate mean_estimate(const std::vector<SwellResponse>& swells, CentsEstimate SwellResponse::*part) {
  CentsEstimate mean;
  for (const SwellResponse& s : swells) {
    mean.cents += (s.*part).cents / static_cast<double>(swells.size());
    mean.u95_cents +=
        (s.*part).u95_cents / static_cast<double>(swells.size());  // the sag's uncertainty is common to them
  }
  return mean;
}

/// `estimate` with the scatter of the swells' ends: the slopes of the estimate with the strength of either end, cents
/// from soft to hard.
CentsEstimate with_scatter(CentsEstimate estimate, double soft_slope, double hard_slope, double strength_sd) {
  estimate.u95_cents =
      std::hypot(estimate.u95_cents, normal_u95_factor * strength_sd * std::hypot(soft_slope, hard_slope));
  return estimate;
}

NoteBreath response_to_swells(NoteBreath note, const std::vector<SwellResponse>& swells, double strength_sd) {
  const double n = static_cast<double>(swells.size());
  const double of_mean = strength_sd / std::sqrt(n);
  const CentsEstimate soft = mean_estimate(swells, &SwellResponse::soft),
                      moderate = mean_estimate(swells, &SwellResponse::moderate),
                      hard = mean_estimate(swells, &SwellResponse::hard);
  // Slopes of the parabola through the three, cents from soft to hard.
  const double at_soft = 4.0 * moderate.cents - 3.0 * soft.cents - hard.cents, at_moderate = hard.cents - soft.cents,
               at_hard = soft.cents - 4.0 * moderate.cents + 3.0 * hard.cents;
  note.soft = with_scatter(soft, at_soft, 0.0, of_mean);
  note.moderate = with_scatter(moderate, 0.5 * at_moderate, 0.5 * at_moderate, of_mean);
  note.hard = with_scatter(hard, 0.0, at_hard, of_mean);
  const CentsEstimate spread = with_scatter(mean_estimate(swells, &SwellResponse::spread), at_soft, at_hard, of_mean);
  if (spread.cents > spread.u95_cents) note.spread = spread;
  double range_db = 0;
  for (const SwellResponse& s : swells) range_db += s.range_db / n;
  return with_slope(std::move(note), range_db);
}

/// The note of these holds without its response.
NoteBreath note_of(const Naming& naming, const std::vector<std::size_t>& holds) {
  const NamedHold& first = naming.holds[holds.front()];
  NoteBreath note;
  note.id = first.note;
  note.target_hz = first.target_hz;
  note.holds = static_cast<int>(holds.size());
  if (const ScaleNote* of_scale = scale_note(naming.instrument, first.note)) {
    note.register_number = of_scale->register_number;
    note.weight = of_scale->weight;
    note.can_check = of_scale->can_check;
  }
  return note;
}

NoteResponse response_of(const Naming& naming, const Blows& blows, const std::vector<std::size_t>& holds,
                         const HoldReadings& readings, const Loudness& loudness) {
  std::vector<SwellResponse> swells;
  for (std::size_t h : holds)
    if (readings.swells.contains(h)) swells.push_back(readings.swells.at(h));
  const BlowMeans means = means_by_blow(naming, blows, readings.pitch, holds);
  if (!swells.empty() && !(means[0] && means[2]))
    return {response_to_swells(note_of(naming, holds), swells, readings.swell_strength_sd), false, false};
  return response_to_blows(note_of(naming, holds), means, mean_of_holds(naming, readings.pitch, holds),
                           any_strength(blows), readings, loudness);
}

/// From a lone blow to moderate, as the other notes have it.
struct Distance {
  double cents = 0;
  double sd_cents = unknown_distance_sd_cents;
};

Distance usual_distance(const std::vector<NoteResponse>& responses, std::optional<CentsEstimate> NoteBreath::*end) {
  std::vector<double> distances;
  for (const auto& [note, contradict, guessed] : responses)
    if (note.*end && !guessed) distances.push_back(note.moderate.cents - (note.*end)->cents);
  const std::size_t notes = distances.size();
  const RobustCentre usual = robust_centre(std::move(distances)).value_or(RobustCentre{});
  return {usual.median, notes < least_notes_for_sd ? unknown_distance_sd_cents : usual.scaled_mad};
}

/// A note blown soft only (or hard only) is brought to moderate by the median distance of the other notes. One blown at
/// no known strength stays where it is, somewhere between soft and hard.
std::vector<NoteResponse> brought_to_moderate(std::vector<NoteResponse> responses) {
  const Distance from_soft = usual_distance(responses, &NoteBreath::soft),
                 from_hard = usual_distance(responses, &NoteBreath::hard);
  const double between_sd = 0.5 * (std::abs(from_soft.cents) + std::abs(from_hard.cents));
  const Distance unknown{0.0, std::max({between_sd, from_soft.sd_cents, from_hard.sd_cents})};
  for (auto& [note, contradict, guessed] : responses) {
    if (!guessed) continue;
    const Distance distance = note.hard ? from_hard : note.soft ? from_soft : unknown;
    note.moderate.cents += distance.cents;
    note.moderate.u95_cents = std::hypot(note.moderate.u95_cents, normal_u95_factor * distance.sd_cents);
  }
  return responses;
}

NoteBreath with_later_warming(NoteBreath note, const std::vector<std::size_t>& holds,
                              const std::vector<double>& later_rise_cents) {
  double sum_cents = 0;
  for (const std::size_t h : holds) sum_cents += later_rise_cents[h];
  if (sum_cents > 0) note.later_warming_u95_cents = sum_cents / static_cast<double>(holds.size());
  return note;
}

NoteBreath with_reach(NoteBreath note, const Loudness& loudness) {
  if (!note.spread || !note.soft || !note.hard) return note;
  const auto known = loudness.to_median.find(note.id);
  const StrengthFactors factors = known == loudness.to_median.end() ? StrengthFactors{} : known->second;
  note.reach_soft_cents = std::max(0.0, factors.below * (note.moderate.cents - note.soft->cents));
  note.reach_hard_cents = std::max(0.0, factors.above * (note.hard->cents - note.moderate.cents));
  return note;
}

std::map<NoteId, std::vector<std::size_t>> used_holds_by_note(const Naming& naming, const Blows& blows) {
  std::map<NoteId, std::vector<std::size_t>> by_note;
  for (std::size_t h = 0; h < naming.holds.size(); ++h)
    if (blows.used[h]) by_note[naming.holds[h].note].push_back(h);
  return by_note;
}

}  // namespace

std::vector<NoteResponse> note_responses(const Naming& naming, const Blows& blows, const HoldReadings& readings,
                                         const Loudness& loudness) {
  std::vector<NoteResponse> responses;
  for (const auto& [note, holds] : used_holds_by_note(naming, blows)) {
    NoteResponse& own = responses.emplace_back(response_of(naming, blows, holds, readings, loudness));
    own.note = with_later_warming(std::move(own.note), holds, readings.later_rise_cents);
  }
  responses = brought_to_moderate(std::move(responses));
  for (NoteResponse& response : responses) response.note = with_reach(std::move(response.note), loudness);
  return responses;
}

}  // namespace windway
