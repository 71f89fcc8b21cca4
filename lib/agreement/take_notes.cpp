// SPDX-License-Identifier: GPL-3.0-or-later
#include "agreement/take_notes.hpp"

#include <algorithm>
#include <set>

#include "units/units.hpp"

namespace windway {
namespace {

bool is_blown_moderately(const BlowHint& hint, int take) {
  const auto at = static_cast<std::size_t>(take);
  return at >= hint.blow_of_take.size() || hint.blow_of_take[at].value_or(Blow::moderate) == Blow::moderate;
}

Naming of_one_take(const Naming& naming, int take) {
  Naming own;
  own.instrument = naming.instrument;
  own.tuning = naming.tuning;
  own.inferred = naming.inferred;
  for (const NamedHold& hold : naming.holds)
    if (hold.hold.take == take) own.holds.push_back(hold);
  return own;
}

}  // namespace

std::vector<TakeNotes> notes_by_take(const Naming& naming, const BlowHint& hint) {
  std::set<int> takes;
  for (const NamedHold& hold : naming.holds) takes.insert(hold.hold.take);
  if (takes.size() < 2) return {};
  std::vector<TakeNotes> out;
  for (const int take : takes) {
    if (!is_blown_moderately(hint, take)) continue;
    BreathResult breath = measure_breath(of_one_take(naming, take), hint);
    out.push_back({take, std::move(breath.notes), breath.drift});
  }
  return out;
}

double drift_sd_cents(const TakeNotes& take) {
  if (!take.drift || !take.drift->reference_time_s) return 0.0;
  return 0.5 * take.drift->over_take_u95_cents / normal_u95_factor;
}

}  // namespace windway
