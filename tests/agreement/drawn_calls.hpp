// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <vector>

#include "analysis.hpp"
#include "support/flute_model.hpp"

namespace windway::test {

/// An invented whistle in D, so sharp with its head fully in; `seed` draws its notes.
synthesis::FluteModel drawn_whistle(std::uint64_t seed, double overall_cents);

/// What is different about one take of a call.
struct TakeOfCall {
  double out_mm = 0;        ///< how far the head is drawn out
  double warmer_cents = 0;  ///< all notes alike
  double harder_doublings = 0;
  double slide_factor = 1;  ///< the flute's change of pitch against the law
};

/// The flute as that take has it.
synthesis::FluteModel flute_in(const TakeOfCall& take, synthesis::FluteModel flute);

/// The scale over an octave and a third, each note soft, moderate and hard; no two blows are quite alike.
std::vector<float> played(const synthesis::FluteModel& flute, const TakeOfCall& take, std::uint64_t seed);

/// All takes of one call measured together; `places_mm` as said of the head, empty: nothing is.
Measurement measured_call(const synthesis::FluteModel& flute, const std::vector<TakeOfCall>& takes, std::uint64_t seed,
                          const std::vector<double>& places_mm = {});

/// A take of each flute, measured as if of one.
Measurement measured_calls_of(const std::vector<synthesis::FluteModel>& flutes, std::uint64_t seed);

}  // namespace windway::test
