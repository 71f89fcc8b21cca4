// SPDX-License-Identifier: GPL-3.0-or-later
#include "segmentation/frame_series.hpp"

#include <algorithm>
#include <utility>

#include "segmentation/left_out_noise.hpp"
#include "units/order_statistics.hpp"
#include "units/units.hpp"

namespace windway {

namespace {

constexpr double no_level_db = -200.0;
constexpr double least_clarity = 0.35;     // held notes show 0.7 and more in loud breath noise, noise alone 0.1
constexpr double under_loudest_db = 50.0;  // a tone this far under the take's loudest is a tail or a far sound

/// The noise between the notes: its 5th percentile. Digital silence, and windows that reach into it, say
/// nothing of the room.
double quiet_of(const std::vector<double>& noise_db, std::size_t window) {
  constexpr double digital_silence_db = -150.0;
  std::vector<double> values;
  std::size_t since_silence = window;
  for (std::size_t i = 0; i < noise_db.size(); ++i) {
    since_silence = noise_db[i] < digital_silence_db ? 0 : since_silence + 1;
    if (since_silence == 0) values.resize(values.size() - std::min(values.size(), window));
    if (since_silence > window) values.push_back(noise_db[i]);
  }
  if (values.empty()) return no_level_db;
  const std::size_t rank = values.size() / 20;
  return value_of_rank(std::move(values), rank);
}

double tone_level_db(const PitchFrame& frame) {
  double power = 0;
  if (frame.tone && frame.tone->clarity >= least_clarity) {
    for (const float a : frame.tone->amplitude) power += 0.5 * a * a;
  }
  return power > 0 ? db_from_power(power) : no_level_db;
}

}  // namespace

FrameSeries series_of(const PitchTrack& track) {
  FrameSeries series;
  series.hop_s = track.hop_s;
  series.window_s = track.window_s;
  for (const PitchFrame& frame : track.frames) {
    series.level_db.push_back(tone_level_db(frame));
    series.noise_db.push_back(frame.noise_db);
  }
  series.quiet_noise_db = quiet_of(series.noise_db, series.frames_in(series.window_s));
  const double loudest_db =
      series.level_db.empty() ? no_level_db : *std::max_element(series.level_db.begin(), series.level_db.end());
  for (std::size_t i = 0; i < track.frames.size(); ++i) {
    const bool sounds = series.level_db[i] > std::max(loudest_db - under_loudest_db, no_level_db);
    series.cents.push_back(sounds ? std::optional(cents_between(440.0, track.frames[i].tone->f0_hz)) : std::nullopt);
  }
  if (noise_is_left_out(track, series.cents)) std::ranges::fill(series.noise_db, series.quiet_noise_db);
  return series;
}

}  // namespace windway
