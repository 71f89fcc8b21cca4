// SPDX-License-Identifier: GPL-3.0-or-later
#include "slide/warming.hpp"

namespace windway {
namespace {

constexpr double worth_a_word_cents = 3.0;  // what needs no thought of the player: common practice, no source

}  // namespace

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

std::optional<Warning> not_warm_yet(const std::optional<Drift>& drift) {
  if (!drift || drift->over_take_cents < worth_a_word_cents) return std::nullopt;
  if (drift->over_take_cents <= drift->over_take_u95_cents) return std::nullopt;
  return Warning{WarningCode::not_warm_yet,
                 "the flute was still getting warmer while you recorded, and its pitch will go on rising. Play two "
                 "minutes and record again."};
}

}  // namespace windway
