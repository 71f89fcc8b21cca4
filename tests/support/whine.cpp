// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/whine.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "units/units.hpp"

namespace windway::synthesis {
namespace {

struct Fan {
  double shaft_hz = 0.0;
  int strong = 0;  // which partial of the shaft
};

bool on_a_note(const FluteModel& flute, const Strengths& strengths, double hz) {
  constexpr double margin_cents = 10.0;
  constexpr double stray_doublings = 0.2;
  return std::ranges::any_of(flute.notes, [&](const NoteModel& note) {
    const double cents = cents_between(target_hz(flute, note.midi), hz);
    return cents > cents_at(note, strengths.soft - stray_doublings) - margin_cents &&
           cents < cents_at(note, strengths.hard + stray_doublings) + margin_cents;
  });
}

Fan draw_fan(const FluteModel& flute, const Strengths& strengths, Random& random) {
  for (;;) {
    const Fan fan{random.uniform(112.0, 128.0), 6 + static_cast<int>(random.index(7))};
    const double strong_hz = fan.strong * fan.shaft_hz;
    if (strong_hz > 700.0 && strong_hz < 1500.0 && !on_a_note(flute, strengths, strong_hz) &&
        !on_a_note(flute, strengths, 2.0 * strong_hz))
      return fan;
  }
}

double median_hard_db(const SyntheticTake& take) {
  std::vector<double> levels_db;
  for (const TrueHold& hold : take.holds) {
    if (hold.blow == Blow::hard) levels_db.push_back(level_db(stretch_of(hold), take.samples, take.rate_hz));
  }
  std::ranges::sort(levels_db);
  return levels_db[levels_db.size() / 2];
}

}  // namespace

void add_whine(const FluteModel& flute, const Strengths& strengths, double level_db, SyntheticTake& take,
               Random& random) {
  const Fan fan = draw_fan(flute, strengths, random);
  const double strong_db = median_hard_db(take) + level_db;
  const std::array partials = {1, fan.strong, 2 * fan.strong};
  const std::array partials_db = {-10.0, 0.0, -14.0};
  for (std::size_t p = 0; p < partials.size(); ++p) {
    const double amplitude = std::numbers::sqrt2 * amplitude_from_db(strong_db + partials_db[p]);
    const double step_rad = 2.0 * std::numbers::pi * partials[p] * fan.shaft_hz / take.rate_hz;
    const double turn_rad = random.uniform(0.0, 2.0 * std::numbers::pi);
    for (std::size_t i = 0; i < take.samples.size(); ++i) {
      take.samples[i] += static_cast<float>(amplitude * std::sin(step_rad * static_cast<double>(i) + turn_rad));
    }
  }
  take.segmentation = with_whine(take.segmentation, static_cast<double>(take.samples.size()) / take.rate_hz);
}

}  // namespace windway::synthesis
