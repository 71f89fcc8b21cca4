// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <span>

namespace windway {

/// Counts the samples at the flat tops of one channel, in one pass. A flat top is a run of three samples or more that
/// lie within 0.5 % of the signal's half range, at the highest (or lowest) value of the channel, and that the signal
/// enters too steeply for a round top: a sine's top of depth d, entered with slope s and n samples long, has s n = 8 d
/// at any frequency and rate; a clipped one has much more. So a loud sine does not count as clipped. A signal that was
/// clipped before a little noise was added does. A constant offset changes nothing.
class ClippedRuns {
 public:
  /// `step`: the quantisation step near full scale where it is coarse (8 bit: 1/128), else 0.
  explicit ClippedRuns(double step = 0.0) : step_(static_cast<float>(step)) {}

  void add(std::span<const float> samples);

  std::size_t samples() const { return samples_; }
  std::size_t clipped() const;
  /// clipped() / samples(); 0 before the first sample.
  double share() const;
  /// Half the difference of the highest and the lowest value.
  double half_range() const;
  /// Largest |sample|.
  double peak() const;

 private:
  struct Side {
    float extreme = -1e30f;  ///< highest value so far
    float counted_at = 0;    ///< `extreme` when the count was last reset
    std::size_t count = 0;
    std::size_t run = 0;  ///< length of the current run
    float run_value = 0;
    float entry_slope = 0;
    float previous = 0;
  };
  void add_large_chunk(std::span<const float> samples);
  void follow(Side& side, float value) const;
  /// Lower values belong to no run that counts, even if the extreme rises.
  float least_followed(const Side& side) const;
  /// Skips values far below the extreme; `highest` is that of `part` times `sign`.
  void follow_or_skip(Side& side, std::span<const float> part, float highest, float sign) const;
  void end_run(Side& side) const;

  float step_;
  std::size_t samples_ = 0;
  Side high_, low_;  ///< `low_` follows the inverted signal
};

}  // namespace windway
