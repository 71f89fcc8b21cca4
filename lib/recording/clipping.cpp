// SPDX-License-Identifier: GPL-3.0-or-later
#include "recording/clipping.hpp"

#include <algorithm>
#include <cmath>

#include "units/extremes.hpp"

namespace windway {
namespace {

constexpr float flat_tolerance = 0.005f;  // of the half range: -46 dB, above the noise of most rooms
constexpr float at_extreme = 0.01f;       // of the half range: noise on top of a flat top
constexpr float round_top = 8.0f;         // s n / d of a sine's top
constexpr float safety = 1.5f;            // harmonics make round tops flatter than a sine's
constexpr std::size_t shortest_run = 3;   // two equal samples happen at every top
// Samples far from the extremes are skipped in large chunks, else in small ones.
constexpr std::size_t large_chunk = 1024;
constexpr std::size_t chunk = 32;
constexpr float far_from_extreme = 4 * at_extreme;

}  // namespace

double ClippedRuns::half_range() const {
  return samples_ == 0 ? 0.0 : std::max(0.0, (static_cast<double>(high_.extreme) + low_.extreme) / 2);
}

double ClippedRuns::peak() const {
  return samples_ == 0 ? 0.0 : static_cast<double>(std::max({high_.extreme, low_.extreme, 0.0f}));
}

std::size_t ClippedRuns::clipped() const {
  Side high = high_;
  Side low = low_;
  end_run(high);
  end_run(low);
  return high.count + low.count;
}

double ClippedRuns::share() const {
  return samples_ == 0 ? 0.0 : static_cast<double>(clipped()) / static_cast<double>(samples_);
}

void ClippedRuns::end_run(Side& side) const {
  const auto half = static_cast<float>(half_range());
  const float depth = std::max(flat_tolerance * half, step_);
  const bool long_enough = side.run >= shortest_run && half > 0;
  const bool at_top = side.run_value >= side.extreme - at_extreme * half;
  // The entry slope is uncertain by one quantisation step.
  const float slope = side.entry_slope - step_;
  const bool steep = slope * static_cast<float>(side.run) > safety * round_top * depth;
  if (long_enough && at_top && steep) side.count += side.run;
  side.run = 0;
}

void ClippedRuns::follow(Side& side, float value) const {
  const auto half = static_cast<float>(half_range());
  if (value > side.extreme) {
    side.extreme = value;
    if (value > side.counted_at + at_extreme * half) {  // the counted runs were below the extreme
      side.counted_at = value;
      side.count = 0;
    }
  }
  const bool goes_on = side.run > 0 && std::abs(value - side.run_value) <= flat_tolerance * half;
  if (goes_on) {
    ++side.run;
  } else {
    end_run(side);
    side.run = 1;
    side.run_value = value;
    side.entry_slope = value - side.previous;
  }
  side.previous = value;
}

float ClippedRuns::least_followed(const Side& side) const {
  return side.extreme - far_from_extreme * static_cast<float>(half_range());
}

void ClippedRuns::follow_or_skip(Side& side, std::span<const float> part, float highest, float sign) const {
  const float least = least_followed(side);
  if (highest >= least) {
    for (const float value : part) {
      if (sign * value >= least) {
        follow(side, sign * value);
        continue;
      }
      if (side.run > 0) end_run(side);  // too low for a run that counts
      side.previous = sign * value;
    }
    return;
  }
  end_run(side);
  side.previous = sign * part.back();
}

void ClippedRuns::add(std::span<const float> samples) {
  if (samples.empty()) return;
  if (samples_ == 0) {
    high_.extreme = high_.counted_at = high_.previous = samples[0];
    low_.extreme = low_.counted_at = low_.previous = -samples[0];
  }
  samples_ += samples.size();
  for (std::size_t from = 0; from < samples.size(); from += large_chunk)
    add_large_chunk(samples.subspan(from, std::min(large_chunk, samples.size() - from)));
}

void ClippedRuns::add_large_chunk(std::span<const float> samples) {
  const Extremes of_all = extremes_of(samples);
  if (of_all.highest < least_followed(high_) && -of_all.lowest < least_followed(low_)) {
    follow_or_skip(high_, samples, of_all.highest, 1.0f);
    follow_or_skip(low_, samples, -of_all.lowest, -1.0f);
    return;
  }
  for (std::size_t from = 0; from < samples.size(); from += chunk) {
    const auto part = samples.subspan(from, std::min(chunk, samples.size() - from));
    const Extremes extremes = extremes_of(part);
    follow_or_skip(high_, part, extremes.highest, 1.0f);
    follow_or_skip(low_, part, -extremes.lowest, -1.0f);
  }
}

}  // namespace windway
