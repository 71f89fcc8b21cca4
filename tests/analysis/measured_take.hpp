// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "analysis.hpp"
#include "support/flute_model.hpp"
#include "support/take.hpp"

namespace windway::test {

/// A take and the flute it was played on.
struct PlayedTake {
  synthesis::FluteModel flute;
  synthesis::SyntheticTake sound;
};

/// A whistle in D plays `notes`, each soft, moderate and hard. The same arguments give the same samples.
PlayedTake steps_take(const std::vector<int>& notes, std::uint64_t seed, const synthesis::Performance& performance = {},
                      double overall_cents = 12.0);

/// What the take was played on is said, so that nothing hangs on what is inferred.
MeasureSettings whistle_in_d();

/// Writes the samples as a file (24-bit WAV, or float with bits = 32) into a folder of its own and measures that.
Measurement measured(const std::vector<float>& samples, double rate_hz,
                     const MeasureSettings& settings = whistle_in_d(), int channels = 1, int bits = 32);
/// The same for several takes of one flute, all at one rate.
Measurement measured_together(const std::vector<std::vector<float>>& takes, double rate_hz,
                              const MeasureSettings& settings = whistle_in_d());

std::vector<int> midi_of_holds(const Measurement& measurement);

}  // namespace windway::test
