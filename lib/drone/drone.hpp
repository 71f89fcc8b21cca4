// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace windway {

/// A steady note to play against.
struct DroneSettings {
  double frequency_hz = 440.0;
  double duration_s = 30.0;
  double rate_hz = 48000.0;
  double peak = 0.25;    ///< of full scale, 1: 12 dB below it, so that no loudspeaker is startled
  double edge_s = 0.05;  ///< how long it takes to set in and to die away
};

/// The sound of a drone, block after block. Its harmonics fall with the power 3/2 of their number as far as 8 kHz, so
/// that beats are heard on them too; their phases keep the crest low (M. R. Schroeder, IEEE Trans. Inf. Theory 16
/// (1970) 85, from memory), and it is scaled so that its highest peak is `peak`. The same settings give the same
/// samples.
class DroneSound {
 public:
  /// `frequency_hz` must be positive and below half the rate.
  explicit DroneSound(const DroneSettings& settings);

  /// Fills `samples` from the front; gives how many, 0 at the end.
  std::size_t read(std::span<double> samples);

 private:
  double wave_at(double turns) const;
  double edge_at(std::size_t sample) const;

  DroneSettings settings_;
  std::vector<double> amplitudes_;  ///< of harmonic 1, 2, ...
  std::vector<double> phases_rad_;
  std::size_t length_samples_ = 0;
  std::size_t at_sample_ = 0;
};

}  // namespace windway
