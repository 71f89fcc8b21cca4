// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <span>

namespace windway {

/// Counts the samples at the flat tops of one channel, in one pass. A flat top is a run of three samples or more that
/// lie within 0.5 % of the signal's half range, at the highest (or lowest) value of the channel, and that the signal
/// enters too steeply for a round top: with slope s into the run and its length n, a sine's top of depth d has
/// s n = 8 d whatever its frequency and rate, a clipped one much more. So a loud sine is not called clipped, a signal
/// clipped before a little noise was added is, and a constant offset changes nothing.
class ClippedRuns {
 public:
  /// `step`: the distance of neighbouring sample values near full scale where it is coarse (8 bit: 1/128), else 0.
  explicit ClippedRuns(double step = 0.0) : step_(static_cast<float>(step)) {}

  void add(std::span<const float> samples);

  std::size_t samples() const { return samples_; }
  std::size_t clipped() const;
  /// clipped() / samples(); 0 before the first sample.
  double share() const;
  /// Half the distance of the highest from the lowest value.
  double half_range() const;
  /// Largest |sample|.
  double peak() const;

 private:
  struct Side {
    float extreme = -1e30f;  ///< highest value so far
    float counted_at = 0;    ///< `extreme` when the count was last begun
    std::size_t count = 0;
    std::size_t run = 0;  ///< length of the run that is under way
    float run_value = 0;
    float entry_slope = 0;
    float previous = 0;
  };
  void add_large_chunk(std::span<const float> samples);
  void follow(Side& side, float value) const;
  /// A lower value cannot belong to a run that counts, however the extreme moves.
  float least_followed(const Side& side) const;
  /// Skips what lies far below the extreme; `highest` of `part` times `sign`.
  void follow_or_skip(Side& side, std::span<const float> part, float highest, float sign) const;
  void end_run(Side& side) const;

  float step_;
  std::size_t samples_ = 0;
  Side high_, low_;  ///< `low_` sees the signal upside down
};

}  // namespace windway
