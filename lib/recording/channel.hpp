// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "recording/clipping.hpp"

namespace windway {

/// Finds the channel of a take that the flute is on. Each block is high-passed to remove DC and hum; the
/// autocorrelation then divides its power into tone and rest. Summed over all blocks,
///
///     life (dB) = level of the tone + tone-to-rest ratio, at most 30 dB
///
/// so the louder and cleaner channel wins, and neither a dead microphone's noise nor hum can. A channel with more than
/// 0.5 % of its samples clipped loses 30 dB. The lowest channel within 1 dB of the best is taken: rounding does not
/// decide between two equal ones.
class ChannelJudge {
 public:
  ChannelJudge(int channels, int rate_hz, double sample_step);

  /// The length of a block, in frames.
  std::size_t block_frames() const { return block_frames_; }
  /// Adds one interleaved block; a block shorter than block_frames() is ignored.
  void add(std::span<const float> interleaved);
  /// The channel to use, counted from 0; 0 where no channel has life.
  int best() const;

 private:
  struct Channel {
    double tone_power = 0;  ///< summed over the blocks
    double rest_power = 0;
    ClippedRuns clipping;
  };
  static double life_db(const Channel& channel);

  std::vector<Channel> channels_;
  std::size_t thinning_;  ///< samples averaged into one: about 16 kHz is enough
  double rate_hz_;        ///< after averaging
  std::size_t block_frames_;
};

}  // namespace windway
