// SPDX-License-Identifier: GPL-3.0-or-later
#include "recording/clipping.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstring>

#include "units/four.hpp"
#include "units/wide.hpp"

namespace windway {
namespace {

constexpr float flat_tolerance = 0.005f;  // of the half range: 46 dB below it, above the noise of most rooms
constexpr float at_extreme = 0.01f;       // of the half range: room for noise on top of the ceiling
constexpr float round_top = 8.0f;         // slope times length over depth of a sine's top
constexpr float safety = 1.5f;            // harmonics make round tops somewhat flatter than a sine's
constexpr std::size_t shortest_run = 3;   // two equal samples happen at every top
// Samples that are skipped at once where they are far from the extremes: first many, then few of them.
constexpr std::size_t large_chunk = 1024;
constexpr std::size_t chunk = 32;
constexpr float far_from_extreme = 4 * at_extreme;

struct Extremes {
  float lowest = 0;
  float highest = 0;
};

Four lower(Four a, Four b) { return a < b ? a : b; }
Four higher(Four a, Four b) { return a > b ? a : b; }

/// Of a part that fills the lanes at least.
struct ExtremesOf {
  template <std::size_t bytes>
  [[gnu::always_inline]] static void run(std::span<const float> part, Extremes& found) {
    using In = Wide<bytes>;
    const auto numbers_at = [&](std::size_t i) { return reinterpret_cast<const typename In::Anywhere*>(&part[i]); };
    std::array<Four, lanes / 4> lowest, highest;
    typename In::Numbers low[In::registers], high[In::registers];
    std::memcpy(low, part.data(), sizeof lowest);
    std::memcpy(high, part.data(), sizeof highest);
    std::size_t i = lanes;
    for (; i + lanes <= part.size(); i += lanes) {
#pragma GCC unroll 4
      for (std::size_t r = 0; r < In::registers; ++r) {
        const typename In::Numbers here = numbers_at(i)[r];
        low[r] = here < low[r] ? here : low[r];
        high[r] = here > high[r] ? here : high[r];
      }
    }
    std::memcpy(lowest.data(), low, sizeof lowest);
    std::memcpy(highest.data(), high, sizeof highest);
    const Four least = lower(lower(lowest[0], lowest[1]), lower(lowest[2], lowest[3]));
    const Four most = higher(higher(highest[0], highest[1]), higher(highest[2], highest[3]));
    found = {std::min(std::min(least[0], least[1]), std::min(least[2], least[3])),
             std::max(std::max(most[0], most[1]), std::max(most[2], most[3]))};
    for (; i < part.size(); ++i) {
      found.lowest = std::min(found.lowest, part[i]);
      found.highest = std::max(found.highest, part[i]);
    }
  }
};

Extremes extremes_of(std::span<const float> part) {
  Extremes found;
  if (part.size() >= lanes) {
    in_widest<ExtremesOf>(part, found);
  } else {
    found = {*std::min_element(part.begin(), part.end()), *std::max_element(part.begin(), part.end())};
  }
  return found;
}

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
  // A coarse converter makes a whole step of the gentlest slope.
  const float slope = side.entry_slope - step_;
  const bool steep = slope * static_cast<float>(side.run) > safety * round_top * depth;
  if (long_enough && at_top && steep) side.count += side.run;
  side.run = 0;
}

void ClippedRuns::follow(Side& side, float value) const {
  const auto half = static_cast<float>(half_range());
  if (value > side.extreme) {
    side.extreme = value;
    if (value > side.counted_at + at_extreme * half) {  // what was counted was not at the extreme after all
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
