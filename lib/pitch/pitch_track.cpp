// SPDX-License-Identifier: GPL-3.0-or-later
#include "pitch/pitch_track.hpp"

#include <algorithm>
#include <cmath>

#include "pitch/spectrum.hpp"
#include "pitch/tone.hpp"
#include "recording/recording.hpp"

namespace windway {

namespace {

/// Cuts a stream of blocks into windows at the hop and appends their frames to a track.
class Framer {
 public:
  Framer(double working_rate_hz, const PitchRules& rules)
      : hop_samples_(static_cast<std::size_t>(std::lround(rules.hop_s * working_rate_hz))),
        spectrum_(fast_length_samples(static_cast<std::size_t>(rules.window_s * working_rate_hz))),
        tone_finder_(working_rate_hz / static_cast<double>(spectrum_.length_samples()), rules) {
    const auto window = static_cast<double>(spectrum_.length_samples());
    track_.working_rate_hz = working_rate_hz;
    track_.hop_s = static_cast<double>(hop_samples_) / working_rate_hz;
    track_.window_s = window / working_rate_hz;
    track_.first_s = window / 2.0 / working_rate_hz;
  }

  void push(std::span<const float> samples) {
    pending_.insert(pending_.end(), samples.begin(), samples.end());
    std::size_t at = 0;
    for (; at + spectrum_.length_samples() <= pending_.size(); at += hop_samples_) {
      spectrum_.transform(std::span<const float>(pending_).subspan(at, spectrum_.length_samples()), next_);
      next_ = tone_finder_.push(std::move(next_), track_.frames);
    }
    pending_.erase(pending_.begin(), pending_.begin() + static_cast<long>(std::min(at, pending_.size())));
  }

  PitchTrack finish() {
    tone_finder_.finish(track_.frames);
    return std::move(track_);
  }

 private:
  std::size_t hop_samples_;
  Spectrum spectrum_;
  ToneFinder tone_finder_;
  SpectrumFrame next_;
  std::vector<float> pending_;
  PitchTrack track_;
};

}  // namespace

PitchTrack track_pitch(Recording& recording, const PitchRules& rules) {
  constexpr std::size_t block_samples = 16384;
  Framer framer(recording.working_rate_hz(), rules);
  std::vector<float> block(block_samples);
  while (const std::size_t n = recording.read(block)) framer.push(std::span<const float>(block).first(n));
  return framer.finish();
}

PitchTrack track_pitch(std::span<const float> samples, double working_rate_hz, const PitchRules& rules) {
  Framer framer(working_rate_hz, rules);
  framer.push(samples);
  return framer.finish();
}

}  // namespace windway
