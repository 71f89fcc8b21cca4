// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "support/flute_model.hpp"
#include "support/plan.hpp"
#include "support/take.hpp"

namespace windway::synthesis {

/// How a note answers the breath, from the model itself: cents from the target. What a take cannot tell is absent.
struct TrueNote {
  int midi = 0;
  int register_number = 1;
  double target_hz = 0.0;
  std::optional<double> soft_cents;
  double moderate_cents = 0.0;
  std::optional<double> hard_cents;
  std::optional<double> spread_cents;
  double weight = 1.0;
};

/// The notes of a take, ascending, as they are with the flute `warmed_cents` above cold. Swells: moderate is midway in
/// strength between soft and hard. Soft and hard without moderate: moderate is midway in pitch.
std::vector<TrueNote> true_notes(const FluteModel& flute, const std::vector<Blowing>& blowings,
                                 const Strengths& strengths, double warmed_cents = 0.0);

struct LeastCost {
  double slide_mm = 0.0;
  double shift_cents = 0.0;
  double cost = 0.0;
};

/// The compromise by trying every hundredth of a millimetre from `from_mm` to `to_mm`.
LeastCost least_cost(const std::vector<TrueNote>& notes, double from_mm = -30.0, double to_mm = 30.0);
/// Mean cost with the head moved by `slide_mm` and A4 raised by `a4_cents`.
double mean_cost(const std::vector<TrueNote>& notes, double slide_mm, double a4_cents);
/// The A4 that makes the cost least with the head where it is, by trying every twentieth of a cent.
double home_a4_hz(const std::vector<TrueNote>& notes, double a4_hz);

}  // namespace windway::synthesis
