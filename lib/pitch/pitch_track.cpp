// SPDX-License-Identifier: GPL-3.0-or-later
#include "pitch/pitch_track.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "pitch/spectrum.hpp"
#include "pitch/tone.hpp"
#include "recording/recording.hpp"

namespace windway {

namespace {

constexpr std::size_t block_samples = 16384;
constexpr double chapter_s = 600.0;
constexpr double cut_within_s = 120.0;  // after that

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

  /// No more samples come.
  void finish() { tone_finder_.finish(track_.frames); }

  const PitchTrack& track() const { return track_; }

  /// Gives up the first frames of the track.
  PitchTrack take(std::size_t frames) {
    PitchTrack rest{track_.time_s(frames), track_.hop_s, track_.window_s, track_.working_rate_hz, {}};
    rest.frames.assign(track_.frames.begin() + static_cast<long>(frames), track_.frames.end());
    track_.frames.resize(frames);
    return std::exchange(track_, std::move(rest));
  }

 private:
  std::size_t hop_samples_;
  Spectrum spectrum_;
  ToneFinder tone_finder_;
  SpectrumFrame next_;
  std::vector<float> pending_;
  PitchTrack track_;
};

/// The middle of the longest run of frames without a tone, from `first` on; the end where every frame has one.
std::size_t longest_rest(const std::vector<PitchFrame>& frames, std::size_t first) {
  std::size_t longest = 0;
  std::size_t cut = frames.size();
  std::size_t run = 0;
  for (std::size_t i = first; i < frames.size(); ++i) {
    run = frames[i].tone ? 0 : run + 1;
    if (run <= longest) continue;
    longest = run;
    cut = i - run / 2;
  }
  return cut;
}

}  // namespace

struct PitchTracker::State {
  State(Recording& from, const PitchRules& rules) : recording(from), framer(from.working_rate_hz(), rules) {}

  Recording& recording;
  Framer framer;
  std::vector<float> block = std::vector<float>(block_samples);
  bool ended = false;

  void read_block() {
    const std::size_t n = recording.read(block);
    framer.push(std::span<const float>(block).first(n));
    if (n > 0) return;
    framer.finish();
    ended = true;
  }
};

PitchTracker::PitchTracker(Recording& recording, const PitchRules& rules)
    : state_(std::make_unique<State>(recording, rules)) {}

PitchTracker::~PitchTracker() = default;

std::optional<PitchTrack> PitchTracker::next_chapter() {
  const auto least = static_cast<std::size_t>(chapter_s / state_->framer.track().hop_s);
  const auto most = static_cast<std::size_t>((chapter_s + cut_within_s) / state_->framer.track().hop_s);
  const auto& frames = state_->framer.track().frames;
  while (!state_->ended && frames.size() < most) state_->read_block();
  if (frames.empty()) return std::nullopt;
  return state_->framer.take(state_->ended ? frames.size() : longest_rest(frames, least));
}

PitchTrack track_pitch(std::span<const float> samples, double working_rate_hz, const PitchRules& rules) {
  Framer framer(working_rate_hz, rules);
  framer.push(samples);
  framer.finish();
  return framer.take(framer.track().frames.size());
}

}  // namespace windway
