// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "slide/slide.hpp"

namespace windway::test {

struct BruteForce {
  double slide_mm = 0;
  double shift_cents = 0;
  double cost = 0;
};

/// The cost written out once more, from its definition alone, and tried at every hundredth of a millimetre up to
/// 60 mm either way. Every reach must be measured.
BruteForce brute_force_slide(const std::vector<NoteBreath>& notes, double speed_of_sound_m_s);
double brute_force_cost(const std::vector<NoteBreath>& notes, double speed_of_sound_m_s, double slide_mm,
                        double target_shift_cents);

/// The A4 that costs least with the head where it is, tried in steps of a hundredth of a cent over 40 cents either way.
double brute_force_home_cents(const std::vector<NoteBreath>& notes, double speed_of_sound_m_s);

}  // namespace windway::test
