// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace windway {

/// The largest whole number that divides a file's rate to 14 kHz or more: the working rate lies between 14 and 28 kHz.
/// It is 1 for rates below 28 kHz. `rate_hz` must be positive.
int decimation_factor(int rate_hz);

/// Divides the rate of a signal by a whole number, block by block. The low-pass is a symmetric Kaiser-windowed sinc
/// with gain 1 at 0 Hz (J. F. Kaiser and R. W. Schafer, IEEE Trans. ASSP 28 (1980) 105), flat within 0.001 dB to 0.4 of
/// the working rate and at least 85 dB down from 0.6 of it: aliases lie above 0.4 only (5.6 kHz or more). Output sample
/// k is at the time of input sample k * factor: the filter's delay is removed. The result is the same to the bit
/// however the input is cut into blocks. Memory: one block and the taps. With factor 1 the samples pass unchanged.
class Decimator {
 public:
  explicit Decimator(int factor);

  /// Filters the next block and appends to `out` the output that is complete.
  void process(std::span<const float> in, std::vector<float>& out);
  /// Appends the rest at the end of the input: n samples give ceil(n / factor). Call it once, last.
  void finish(std::vector<float>& out);

 private:
  void store(std::span<const float> samples);
  void filter(std::vector<float>& out);

  std::size_t factor_;
  std::vector<float> taps_;  ///< the middle one is at the output's time
  /// Polyphase input that is still needed: sample i is in row i % factor_, column i / factor_. So a tap multiplies
  /// neighbouring samples for neighbouring outputs. The next output's first tap is at sample 0.
  std::vector<std::vector<float>> rows_;
  std::size_t stored_ = 0;  ///< number of samples in the rows
};

}  // namespace windway
