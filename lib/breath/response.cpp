// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/response.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <set>
#include <utility>

#include "units/order_statistics.hpp"

namespace windway {
namespace {

constexpr double together_s = 10.0;  ///< blows nearer in time than this warm by no more than their u95
/// A cold flute may rise so far, over some minutes (from memory; 3 cents a degree, Cramer 1993).
constexpr double cold_rise_cents = 20.0;
constexpr double cold_rise_s = 60.0;
constexpr double unknown_way_cents = 15.0;  ///< SD of moderate about a lone soft or hard blow, where no note tells more

using BlowMeans = std::array<std::optional<BlowMean>, 3>;  ///< soft, moderate, hard

CentsEstimate stated(const BlowMean& mean, double coverage) {
  return {mean.cents, coverage * std::hypot(std::sqrt(mean.variance_cents2), mean.correction_sd_cents)};
}

std::vector<std::size_t> holds_of(const Naming& naming, const Blows& blows, const NoteId& note) {
  std::vector<std::size_t> holds;
  for (std::size_t h = 0; h < naming.holds.size(); ++h)
    if (naming.holds[h].note == note && blows.used[h]) holds.push_back(h);
  return holds;
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
  double apart_s = 0;
  for (const auto& [take, time_s] : soft.time_s_by_take) {
    const auto other = hard.time_s_by_take.find(take);
    if (other == hard.time_s_by_take.end()) return cold_rise_cents;
    apart_s = std::max(apart_s, std::abs(other->second - time_s));
  }
  if (soft.time_s_by_take.size() != hard.time_s_by_take.size()) return cold_rise_cents;
  return apart_s > together_s ? -cold_rise_cents * std::expm1(-apart_s / cold_rise_s) : 0.0;
}

bool another_cue_agrees(const BlowMean& soft, const BlowMean& hard) {
  return hard.level_db > soft.level_db || hard.noise_db > soft.noise_db || hard.colour_db > soft.colour_db;
}

void answer_slope(NoteBreath& note, double range_db, double range_u95_db) {
  note.level_range_db = range_db;
  if (!note.spread || range_db <= 0) return;
  const double slope = note.spread->cents / range_db;
  note.cents_per_db =
      CentsEstimate{slope, std::hypot(note.spread->u95_cents / range_db, slope * range_u95_db / range_db)};
}

constexpr double level_u95_db = 0.6;  ///< of a range between two blows of one note: repeats agree to about 0.3 dB

void answer_spread(NoteAnswer& answer, const BlowMeans& means, const Witnesses& witnesses) {
  const std::optional<BlowMean>&soft = means[0], &hard = means[2];
  answer.spread_missing = true;
  if (!soft || !hard) return;
  CentsEstimate spread{hard->cents - soft->cents,
                       witnesses.coverage * std::sqrt(soft->variance_cents2 + hard->variance_cents2)};
  answer.blows_contradict = spread.cents < -spread.u95_cents;
  if (spread.cents > spread.u95_cents && another_cue_agrees(*soft, *hard)) {
    answer.spread_missing = false;
    const double allowance = witnesses.drift_told ? 0.0 : warming_allowance_cents(*soft, *hard);
    answer.warming_could_pass = allowance > 0;
    spread.u95_cents = std::hypot(spread.u95_cents, allowance);
    if (allowance > 0) answer.note.warming_u95_cents = allowance;
    answer.note.spread = spread;
  }
  const auto steps = witnesses.loudness.steps.find(answer.note.id);
  if (steps != witnesses.loudness.steps.end())
    answer_slope(answer.note, steps->second.below_db + steps->second.above_db, level_u95_db);
}

void answer_moderate(NoteAnswer& answer, const BlowMeans& means, const BlowMean& all, const Witnesses& witnesses) {
  NoteBreath& note = answer.note;
  const double coverage = witnesses.coverage;
  if (means[0]) note.soft = stated(*means[0], coverage);
  if (means[2]) note.hard = stated(*means[2], coverage);
  if (means[1]) {
    note.moderate = stated(*means[1], coverage);
  } else if (means[0] && means[2]) {
    note.moderate = stated(midway(*means[0], *means[2]), coverage);
    note.moderate_is_midway = true;
  } else {
    note.moderate = stated(all, coverage);
    answer.moderate_missing = witnesses.blows_told;
  }
}

CentsEstimate mean_estimate(const std::vector<SwellResponse>& swells, CentsEstimate SwellResponse::*part) {
  CentsEstimate mean;
  for (const SwellResponse& s : swells) {
    mean.cents += (s.*part).cents / static_cast<double>(swells.size());
    mean.u95_cents += (s.*part).u95_cents / static_cast<double>(swells.size());  // the sag's doubt is common to them
  }
  return mean;
}

/// `estimate` with what the unequal ends of the swells do to it: `soft_share` and `hard_share` say how far it goes with
/// either end, cents for the whole way.
CentsEstimate with_scatter(CentsEstimate estimate, double soft_share, double hard_share, double scatter_way) {
  estimate.u95_cents =
      std::hypot(estimate.u95_cents, normal_u95_factor * scatter_way * std::hypot(soft_share, hard_share));
  return estimate;
}

void answer_from_swells(NoteAnswer& answer, const std::vector<SwellResponse>& swells, double scatter_way) {
  NoteBreath& note = answer.note;
  const double n = static_cast<double>(swells.size());
  const double of_mean = scatter_way / std::sqrt(n);
  const CentsEstimate soft = mean_estimate(swells, &SwellResponse::soft),
                      moderate = mean_estimate(swells, &SwellResponse::moderate),
                      hard = mean_estimate(swells, &SwellResponse::hard);
  // Cents for the whole way, at the slope there of the parabola through the three.
  const double soft_way = 4.0 * moderate.cents - 3.0 * soft.cents - hard.cents, moderate_way = hard.cents - soft.cents,
               hard_way = soft.cents - 4.0 * moderate.cents + 3.0 * hard.cents;
  note.soft = with_scatter(soft, soft_way, 0.0, of_mean);
  note.moderate = with_scatter(moderate, 0.5 * moderate_way, 0.5 * moderate_way, of_mean);
  note.hard = with_scatter(hard, 0.0, hard_way, of_mean);
  const CentsEstimate spread = with_scatter(mean_estimate(swells, &SwellResponse::spread), soft_way, hard_way, of_mean);
  answer.spread_missing = spread.cents <= spread.u95_cents;
  if (!answer.spread_missing) note.spread = spread;
  double range_db = 0;
  for (const SwellResponse& s : swells) range_db += s.range_db / n;
  answer_slope(note, range_db, level_u95_db);
}

NoteAnswer answer_note(const Naming& naming, const Blows& blows, const Witnesses& witnesses,
                       const std::vector<std::size_t>& holds) {
  NoteAnswer answer;
  const NamedHold& first = naming.holds[holds.front()];
  answer.note.id = first.note;
  answer.note.target_hz = first.target_hz;
  answer.note.holds = static_cast<int>(holds.size());
  if (const ScaleNote* of_scale = scale_note(naming.instrument, first.note)) {
    answer.note.register_number = of_scale->register_number;
    answer.note.weight = of_scale->weight;
    answer.note.can_check = of_scale->can_check;
  }
  std::vector<SwellResponse> swells;
  for (std::size_t h : holds)
    if (witnesses.swell.contains(h)) swells.push_back(witnesses.swell.at(h));
  const BlowMeans means = means_by_blow(naming, blows, witnesses.pitch, holds);
  if (!swells.empty() && !(means[0] && means[2])) {
    answer_from_swells(answer, swells, witnesses.swell_scatter_way);
    return answer;
  }
  answer_moderate(answer, means, mean_of_holds(naming, witnesses.pitch, holds), witnesses);
  answer_spread(answer, means, witnesses);
  return answer;
}

/// How far the moderate lies from a lone blow, as the other notes have it.
struct Way {
  double cents = 0;
  double sd_cents = unknown_way_cents;
};

Way usual_way(const std::vector<NoteAnswer>& answers, std::optional<CentsEstimate> NoteBreath::*end) {
  std::vector<double> way, off;
  for (const NoteAnswer& a : answers)
    if (a.note.*end && !a.moderate_missing) way.push_back(a.note.moderate.cents - (a.note.*end)->cents);
  Way usual{median_of(way).value_or(0.0), unknown_way_cents};
  if (way.size() < 4) return usual;
  for (double w : way) off.push_back(std::abs(w - usual.cents));
  usual.sd_cents = 1.4826 * *median_of(off);  // Gaussian SD from the median absolute deviation
  return usual;
}

/// A note blown soft only (or hard only) is brought to moderate by the median way of the other notes; one of which
/// nobody knows how hard it was blown is left where it is, somewhere between soft and hard.
void bring_to_moderate(std::vector<NoteAnswer>& answers) {
  const Way from_soft = usual_way(answers, &NoteBreath::soft), from_hard = usual_way(answers, &NoteBreath::hard);
  const double between_sd = 0.5 * (std::abs(from_soft.cents) + std::abs(from_hard.cents));
  for (NoteAnswer& a : answers) {
    if (!a.moderate_missing) continue;
    Way way{0.0, std::max(between_sd, std::max(from_soft.sd_cents, from_hard.sd_cents))};
    if (a.note.soft) way = from_soft;
    if (a.note.hard) way = from_hard;
    a.note.moderate.cents += way.cents;
    a.note.moderate.u95_cents = std::hypot(a.note.moderate.u95_cents, normal_u95_factor * way.sd_cents);
  }
}

}  // namespace

std::vector<NoteAnswer> answer_notes(const Naming& naming, const Blows& blows, const Witnesses& witnesses) {
  std::set<NoteId> notes;
  for (std::size_t h = 0; h < naming.holds.size(); ++h)
    if (blows.used[h]) notes.insert(naming.holds[h].note);
  std::vector<NoteAnswer> answers;
  for (const NoteId& note : notes)
    answers.push_back(answer_note(naming, blows, witnesses, holds_of(naming, blows, note)));
  bring_to_moderate(answers);
  return answers;
}

std::vector<NoteAnswer> with_reach(std::vector<NoteAnswer> answers, const Loudness& loudness) {
  for (NoteAnswer& a : answers) {
    NoteBreath& note = a.note;
    if (!note.spread || !note.soft || !note.hard) continue;
    const auto told = loudness.to_median.find(note.id);
    const StrengthFactors factors = told == loudness.to_median.end() ? StrengthFactors{} : told->second;
    note.reach_soft_cents = std::max(0.0, factors.below * (note.moderate.cents - note.soft->cents));
    note.reach_hard_cents = std::max(0.0, factors.above * (note.hard->cents - note.moderate.cents));
  }
  return answers;
}

}  // namespace windway
