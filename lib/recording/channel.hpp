// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "recording/clipping.hpp"

namespace windway {

/// Which channel of a take the flute is on. Blocks of the take are looked at, each freed of DC and of what lies below a
/// flute (hum); in each the autocorrelation says how much of the power is a tone and how much is not. Over all blocks
///
///     life (dB) = level of the tone + the tone's distance above the rest, that counted up to 30 dB
///
/// so that the louder and the cleaner channel wins, and neither a dead microphone's noise nor hum can. A channel of
/// which over 0.5 % stands clipped loses 30 dB. The lowest channel within 1 dB of the best is taken, so that the
/// choice between two alike does not hang on a rounding.
class ChannelJudge {
 public:
  ChannelJudge(int channels, int rate_hz, double sample_step);

  /// The length of a block, in frames.
  std::size_t block_frames() const { return block_frames_; }
  /// Looks at one block, interleaved; a block shorter than block_frames() is passed over.
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
  std::size_t thinning_;  ///< samples averaged into one: a rate of about 16 kHz is enough here
  double rate_hz_;        ///< after that
  std::size_t block_frames_;
};

}  // namespace windway
