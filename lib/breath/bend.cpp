// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/bend.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "breath/pitch_curve.hpp"

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

}  // namespace

std::vector<double> bend_by_hold(const Naming& naming, const Blows& blows) {
  std::map<int, std::map<Blow, Sum>> notes;
  std::map<int, double> bend;
  for (std::size_t h = 0; h < naming.holds.size(); ++h) {
    if (!blows.used[h] || !blows.blow[h]) continue;
    const NamedHold& hold = naming.holds[h];
    if (blows.blow[h] == Blow::swell) bend[hold.midi] = sweep_cents(hold);
    Sum& sum = notes[hold.midi][*blows.blow[h]];
    sum = {sum.cents + hold.deviation_cents, sum.count + 1};
  }
  for (const auto& [midi, means] : notes)
    if (means.contains(Blow::soft) && means.contains(Blow::hard))
      bend[midi] = std::abs(means.at(Blow::hard).mean() - means.at(Blow::soft).mean());
  std::vector<double> known;
  for (const auto& [midi, cents] : bend) known.push_back(cents);
  std::sort(known.begin(), known.end());
  const double usual = known.empty() ? 0.0 : known[known.size() / 2];
  std::vector<double> by_hold;
  for (const NamedHold& h : naming.holds) by_hold.push_back(bend.contains(h.midi) ? bend.at(h.midi) : usual);
  return by_hold;
}

}  // namespace windway
