// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <vector>

#include "support/random.hpp"

namespace windway::synthesis {

/// Root mean square; 0 for no samples.
double rms(const std::vector<double>& samples);

std::vector<double> white_noise(std::size_t count, double sd, Random& random);

/// Power density falling as 1/f from about 10 Hz up, RMS `sd`.
std::vector<double> pink_noise(std::size_t count, double rate_hz, double sd, Random& random);

/// A slow wander of standard deviation `sd` that forgets itself in about `memory_s` (an Ornstein-Uhlenbeck process,
/// drawn every 4 ms, straight lines between).
std::vector<double> slow_wander(std::size_t count, double rate_hz, double memory_s, double sd, Random& random);

/// The rush of breath at the edge: noise from about 600 Hz to 5 kHz, RMS 1.
std::vector<double> breath_noise(std::size_t count, double rate_hz, Random& random);

/// Something like talk, though no words: voiced syllables whose pitch glides, hisses, pauses; peak 1.
std::vector<double> babble(double duration_s, double rate_hz, Random& random);

}  // namespace windway::synthesis
