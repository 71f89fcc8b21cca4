// SPDX-License-Identifier: GPL-3.0-or-later
#include "segmentation/left_out_noise.hpp"

#include <algorithm>
#include <cstddef>
#include <utility>

#include "units/order_statistics.hpp"

namespace windway {

namespace {

constexpr double silence_under_db = 20.0;        // under the tones' median power
constexpr std::size_t least_silent_frames = 20;  // 0.2 s
constexpr double left_out_db = 3.0;              // noise scatters by 1 to 2 dB from frame to frame
constexpr std::size_t one_in = 100;              // tonal frames

/// Median noise of the quietest quarter of the frames without a tone. Empty where few lie clear under the tones.
std::optional<double> silence_noise_db(const PitchTrack& track, const std::vector<std::optional<double>>& cents) {
  std::vector<double> tones_db;
  for (std::size_t i = 0; i < cents.size(); ++i) {
    if (cents[i]) tones_db.push_back(track.frames[i].power_db);
  }
  if (tones_db.empty()) return std::nullopt;
  const double most_db = *median_of(std::move(tones_db)) - silence_under_db;
  std::vector<std::pair<float, float>> silent;  // power and noise
  for (std::size_t i = 0; i < cents.size(); ++i) {
    const PitchFrame& frame = track.frames[i];
    if (!cents[i] && frame.power_db < most_db) silent.emplace_back(frame.power_db, frame.noise_db);
  }
  if (silent.size() < least_silent_frames) return std::nullopt;
  const auto quarter = silent.begin() + static_cast<long>(silent.size() / 4);
  std::nth_element(silent.begin(), quarter, silent.end());
  std::vector<double> noise_db;
  for (auto frame = silent.begin(); frame != quarter; ++frame) noise_db.push_back(frame->second);
  return median_of(std::move(noise_db));
}

}  // namespace

bool noise_is_left_out(const PitchTrack& track, const std::vector<std::optional<double>>& cents) {
  const auto silence_db = silence_noise_db(track, cents);
  if (!silence_db) return false;
  std::size_t tonal = 0;
  std::size_t below = 0;
  for (std::size_t i = 0; i < cents.size(); ++i) {
    if (!cents[i]) continue;
    ++tonal;
    if (track.frames[i].noise_db < *silence_db - left_out_db) ++below;
  }
  return one_in * below > tonal;
}

}  // namespace windway
