// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/response/bend.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "breath/blows/pitch_curve.hpp"
#include "units/order_statistics.hpp"

namespace windway {
namespace {

struct Sum {
  double cents = 0;
  double count = 0;
  double mean() const { return cents / count; }
};

/// Difference between the last fifth of a swell and its first.
double sweep_cents(const NamedHold& hold) {
  const PitchCurve curve = pitch_curve(hold);
  const std::size_t n = curve.cents.size(), fifth = n / 5;
  if (fifth == 0) return 0;
  Sum first, last;
  for (std::size_t i = 0; i < fifth; ++i) {
    first = {first.cents + curve.cents[i], first.count + 1};
    last = {last.cents + curve.cents[n - 1 - i], last.count + 1};
  }
  return std::abs(last.mean() - first.mean());
}

using BlowSums = std::map<NoteId, std::map<Blow, Sum>>;

BlowSums sums_by_blow(const Naming& naming, const Blows& blows) {
  BlowSums notes;
  for (std::size_t h = 0; h < naming.holds.size(); ++h) {
    if (!blows.used[h] || !blows.blow[h]) continue;
    Sum& sum = notes[naming.holds[h].note][*blows.blow[h]];
    sum = {sum.cents + deviation_as_brought_cents(naming.holds[h]), sum.count + 1};
  }
  return notes;
}

/// Curvature of p(u) = u + curvature u (1 - u), pitch at the strength u: median of the notes blown at all three
/// strengths, 0 where none is.
double common_curvature(const BlowSums& notes, double moderate_strength) {
  constexpr double most_curvature = 0.8;  // beyond 1 the pitch would fall as the breath rises
  std::vector<double> curvature;
  for (const auto& [note, sums] : notes) {
    if (!sums.contains(Blow::soft) || !sums.contains(Blow::moderate) || !sums.contains(Blow::hard)) continue;
    const double soft = sums.at(Blow::soft).mean(), bend = sums.at(Blow::hard).mean() - soft;
    if (bend <= 0) continue;
    const double share = (sums.at(Blow::moderate).mean() - soft) / bend;
    curvature.push_back((share - moderate_strength) / (moderate_strength * (1.0 - moderate_strength)));
  }
  return std::clamp(median_of(std::move(curvature)).value_or(0.0), -most_curvature, most_curvature);
}

}  // namespace

std::vector<double> bend_by_hold(const Naming& naming, const Blows& blows) {
  const BlowSums notes = sums_by_blow(naming, blows);
  std::map<NoteId, double> bend;
  for (std::size_t h = 0; h < naming.holds.size(); ++h)
    if (blows.used[h] && blows.blow[h] == Blow::swell) bend[naming.holds[h].note] = sweep_cents(naming.holds[h]);
  for (const auto& [note, means] : notes)
    if (means.contains(Blow::soft) && means.contains(Blow::hard))
      bend[note] = std::abs(means.at(Blow::hard).mean() - means.at(Blow::soft).mean());
  std::vector<double> known;
  for (const auto& [note, cents] : bend) known.push_back(cents);
  const double usual = known.empty() ? 0.0 : value_of_rank(known, known.size() / 2);
  std::vector<double> by_hold;
  for (const NamedHold& h : naming.holds) by_hold.push_back(bend.contains(h.note) ? bend.at(h.note) : usual);
  return by_hold;
}

std::vector<double> bend_at_blow(const Naming& naming, const Blows& blows, const std::vector<double>& bend_cents,
                                 double moderate_strength) {
  // A moderate hardly apart from soft or hard shows no curvature.
  const double moderate = std::clamp(moderate_strength, 0.1, 0.9);
  const double curvature = common_curvature(sums_by_blow(naming, blows), moderate);
  std::vector<double> at_blow(bend_cents);
  for (std::size_t h = 0; h < at_blow.size(); ++h) {
    double at = moderate;
    if (blows.blow[h] == Blow::soft) at = 0.0;
    if (blows.blow[h] == Blow::hard) at = 1.0;
    at_blow[h] *= 1.0 + curvature * (1.0 - 2.0 * at);
  }
  return at_blow;
}

}  // namespace windway
