// SPDX-License-Identifier: GPL-3.0-or-later
#include "found_blows.hpp"

#include <algorithm>
#include <limits>

#include "instrument/note.hpp"
#include "played_tone.hpp"
#include "support/plan.hpp"
#include "units/units.hpp"

namespace windway::test {

double FoundBlow::error_cents() const {
  const auto true_cents = synthesis::mean_cents(truth, hold.steady_start_s, hold.steady_end_s);
  return cents_between(target_hz, hold.frequency_hz) - true_cents.value_or(std::numeric_limits<double>::infinity());
}

FoundTake found_take(const synthesis::SyntheticTake& take, double a4_hz) {
  const std::vector<Hold> holds = holds_in(take.samples, take.rate_hz);
  FoundTake out{{}, take.holds.size(), holds.size()};
  for (const synthesis::TrueHold& truth : take.holds) {
    const auto match = std::ranges::find_if(holds, [&](const Hold& hold) {
      const double both_s = std::min(hold.end_s, truth.end_s) - std::max(hold.start_s, truth.start_s);
      return both_s >= 0.5 * (truth.end_s - truth.start_s);
    });
    if (match != holds.end()) out.found.push_back({truth, *match, equal_tempered_hz(truth.midi, a4_hz)});
  }
  return out;
}

synthesis::SyntheticTake played_take(const std::vector<int>& notes, const std::vector<Blow>& blows,
                                     const synthesis::Performance& performance, std::uint64_t seed) {
  synthesis::Random random(seed);
  const synthesis::FluteModel flute = synthesis::draw_flute({}, random);
  const auto plan = synthesis::note_by_note(notes, blows, {}, {}, random);
  return synthesis::synthesise_take(flute, plan, performance, random);
}

}  // namespace windway::test
