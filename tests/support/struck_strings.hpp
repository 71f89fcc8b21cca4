// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "support/random.hpp"

namespace windway::synthesis {

/// One note of an invented piano: stiff strings that are struck and die away.
struct StruckNote {
  double start_s = 0.0;
  double duration_s = 2.0;  ///< until the damper falls; then it is gone within 0.1 s
  double first_hz = 440.0;  ///< the first partial: f0 sqrt(1 + B)
  double inharmonicity = 5e-4;
  double amplitude = 0.2;               ///< of the first partial at its start, 1 = full scale
  double decay_s = 1.5;                 ///< in which the first partial falls to 1/e; higher ones fall faster
  double partial_scatter_cents = 0.0;   ///< SD of the higher partials about the law of the stiff string: the soundboard
  std::vector<double> strings_cents{};  ///< where each string stands from first_hz; empty: one string, there
};

/// The notes in `duration_s`, a knock at the start of each, and white noise of RMS `noise_db` full scale over all.
/// Colour and decays of the partials are drawn.
std::vector<float> struck_strings(const std::vector<StruckNote>& notes, double duration_s, double rate_hz,
                                  double noise_db, Random& random);

/// One note of reeds or pipes that sound as long as they are held: whole multiples of the pitch.
struct HeldNote {
  double start_s = 0.0;
  double duration_s = 2.0;
  double amplitude = 0.1;
  std::vector<double> ranks_hz = {440.0};  ///< pitch of each reed or pipe that sounds together
  double fall_db = 5.0;                    ///< that each harmonic is softer than the one below
};

std::vector<float> held_reeds(const std::vector<HeldNote>& notes, double duration_s, double rate_hz, double noise_db,
                              Random& random);

}  // namespace windway::synthesis
