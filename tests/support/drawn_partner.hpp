// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "support/random.hpp"
#include "support/struck_strings.hpp"

namespace windway::synthesis {

/// A recording of an invented piano and what is true of it.
struct DrawnPartner {
  double a4_hz = 440.0;
  double rate_hz = 44100.0;
  std::vector<StruckNote> notes;
  std::vector<float> samples;
};

/// Draws three to eight notes from F4 to D7, one after another and sometimes two at once, B from 1e-4 to 1e-3, A4 from
/// 430 to 450 Hz, noise 35 to 65 dB below the notes. Each key stands off equal temperament by `scatter_cents` (standard
/// deviation); A4 is that of the temperament.
DrawnPartner drawn_partner(double scatter_cents, Random& random);

}  // namespace windway::synthesis
