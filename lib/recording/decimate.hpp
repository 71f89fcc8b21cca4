// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace windway {

/// The whole number that a file's rate is divided by: the largest that leaves at least 14 kHz, so that the working
/// rate lies between 14 and 28 kHz; 1 where the file's rate is below 28 kHz. `rate_hz` must be positive.
int decimation_factor(int rate_hz);

/// Low-pass taps for decimation by `factor` (> 1): a Kaiser-windowed sinc (J. F. Kaiser and R. W. Schafer, IEEE Trans.
/// ASSP 28 (1980) 105), of odd length and symmetric, gain 1 at 0 Hz. Flat to 0.4 of the working rate within 0.001 dB,
/// at least 85 dB down from 0.6 of it: what folds back lands above 0.4, so all below 0.4 (5.6 kHz or more) is clean.
std::vector<float> decimation_taps(int factor);

/// Divides the rate of a signal by a whole number, a block at a time. Output sample k stands at input sample
/// k * factor: the filter's delay is taken out. The result does not depend on how the input is cut into blocks, to the
/// bit. Memory: one block and the taps. With factor 1 the samples pass unchanged.
class Decimator {
 public:
  explicit Decimator(int factor);

  /// Takes the next block and appends to `out` whatever output is then complete.
  void process(std::span<const float> in, std::vector<float>& out);
  /// The input has ended: appends the rest, so that n samples have given ceil(n / factor). Call it once, last.
  void finish(std::vector<float>& out);

 private:
  void deal(std::span<const float> samples);
  void filter(std::vector<float>& out);

  std::size_t factor_;
  std::vector<float> taps_;  ///< the middle one stands on the output's time
  /// Input not yet done with: sample i in row i % factor_, column i / factor_, so that neighbouring outputs weigh
  /// neighbours by each tap, and a register holds many of them. The next output's taps begin at the first sample.
  std::vector<std::vector<float>> rows_;
  std::size_t dealt_ = 0;  ///< how many samples the rows hold
};

}  // namespace windway
