// SPDX-License-Identifier: GPL-3.0-or-later
#include "slide/warming.hpp"

#include <fmt/format.h>

#include <cmath>

namespace windway {

double as_warming_c(double cents, const Air& air) {
  const auto rise_cents = [&](double degrees_c) {
    Air warmer = air;
    warmer.temperature_c += degrees_c;
    return air_change_cents(air, warmer);
  };
  // The speed of sound is as good as straight in the temperature: each round leaves a hundredth of the error before.
  constexpr int rounds = 3;
  double degrees_c = cents / rise_cents(1.0);
  for (int round = 0; round < rounds && cents != 0; ++round) degrees_c *= cents / rise_cents(degrees_c);
  return degrees_c;
}

std::optional<Warning> drift_warning(const std::optional<Drift>& drift, bool is_said_warm) {
  if (!drift) return std::nullopt;
  if (drift->step_cents)
    return Warning{
        WarningCode::head_moved,
        fmt::format("once while you recorded, all notes became {:.0f} cents {}, all together: did the head move, "
                    "or did you blow otherwise from then on? Leave the head, blow alike, and record again.",
                    std::abs(*drift->step_cents), *drift->step_cents > 0 ? "sharper" : "flatter")};
  const double size_cents = std::abs(drift->over_take_cents);
  if (size_cents < drift_worth_a_word_cents || size_cents <= drift->over_take_u95_cents) return std::nullopt;
  if (drift->over_take_cents < 0)
    return Warning{
        WarningCode::pitch_drifted,
        fmt::format("all notes fell by {:.0f} cents while you recorded, and a flute that is blown rises as it "
                    "warms. Look for the cause: softer blowing, cold air, a head that slips, a recorder that runs "
                    "unevenly. The ± of the move allows for the fall. Record again for a surer answer.",
                    size_cents)};
  if (is_said_warm)
    return Warning{
        WarningCode::pitch_drifted,
        fmt::format("all notes rose by {:.0f} cents while you recorded, although the flute was said to be warm. Look "
                    "for the cause: a flute that was not warm yet, harder blowing, a recorder that runs unevenly. The "
                    "± of the move allows for the rise. Record again for a surer answer.",
                    size_cents)};
  return Warning{WarningCode::not_warm_yet,
                 "the flute was still getting warmer while you recorded, and its pitch will go on rising. Play two "
                 "minutes and record again."};
}

}  // namespace windway
