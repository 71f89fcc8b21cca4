// SPDX-License-Identifier: GPL-3.0-or-later
#include "recording/decimate.hpp"

#include <algorithm>
#include <cmath>
#include <cstring>
#include <numbers>

#include "units/wide.hpp"

namespace windway {
namespace {

constexpr int least_working_rate_hz = 14000;  // the highest recorder's third harmonic still lies below its half
constexpr double passband_edge = 0.4;         // of the working rate
constexpr double stopband_edge = 0.6;         // folds back to the pass band's edge, no further
constexpr double attenuation_db = 90.0;       // 5 dB in hand for the rounding of the taps

constexpr std::size_t outputs_at_once = 2 * lanes;  // two sums: while one waits for its addition the other goes on

/// A tap and the two places, either side of the centre, whose samples it weighs for the first output.
struct TapPair {
  float tap;
  const float* before;
  const float* after;
};

/// The sums over all taps, for whole groups of outputs_at_once outputs; each next output's samples stand one place on.
struct FilterGroups {
  template <std::size_t bytes>
  [[gnu::always_inline]] static void run(std::span<const TapPair> pairs, std::span<float> out) {
    using In = Wide<bytes>;
    constexpr std::size_t sums_count = 2 * In::registers;
    for (std::size_t k = 0; k < out.size(); k += outputs_at_once) {
      typename In::Numbers sums[sums_count]{};
      for (const TapPair& pair : pairs) {
        const auto* const before = reinterpret_cast<const typename In::Anywhere*>(pair.before + k);
        const auto* const after = reinterpret_cast<const typename In::Anywhere*>(pair.after + k);
#pragma GCC unroll 8
        for (std::size_t i = 0; i < sums_count; ++i) sums[i] += pair.tap * (before[i] + after[i]);
      }
      std::memcpy(&out[k], sums, outputs_at_once * sizeof(float));
    }
  }
};

/// Deals samples by threes, the factor of nearly every recording: 44.1 and 48 kHz.
struct DealThrees {
  template <std::size_t>
  [[gnu::always_inline]] static void run(const float* samples, std::size_t columns, float* __restrict first,
                                         float* __restrict second, float* __restrict third) {
    for (std::size_t k = 0; k < columns; ++k) {
      first[k] = samples[3 * k];
      second[k] = samples[3 * k + 1];
      third[k] = samples[3 * k + 2];
    }
  }
};

double sinc(double x) { return x == 0.0 ? 1.0 : std::sin(std::numbers::pi * x) / (std::numbers::pi * x); }

}  // namespace

int decimation_factor(int rate_hz) { return std::max(1, rate_hz / least_working_rate_hz); }

std::vector<float> decimation_taps(int factor) {
  const double transition = (stopband_edge - passband_edge) / factor;  // cycles per input sample
  const double cutoff = (stopband_edge + passband_edge) / factor;      // twice the middle of the transition
  // Kaiser and Schafer's rules for the length and for the shape of the window.
  const auto half = static_cast<int>(std::ceil((attenuation_db - 7.95) / (14.36 * transition) / 2));
  const double beta = 0.1102 * (attenuation_db - 8.7);
  std::vector<double> exact;
  double sum = 0.0;
  for (int i = -half; i <= half; ++i) {
    const double x = static_cast<double>(i) / half;
    const bool on_zero = i != 0 && i % factor == 0;  // of the sinc: its cutoff is half the working rate
    exact.push_back(on_zero ? 0.0 : sinc(cutoff * i) * std::cyl_bessel_i(0.0, beta * std::sqrt(1.0 - x * x)));
    sum += exact.back();
  }
  std::vector<float> taps;
  for (const double tap : exact) taps.push_back(static_cast<float>(tap / sum));
  return taps;
}

Decimator::Decimator(int factor) : factor_(static_cast<std::size_t>(factor)), rows_(factor_) {
  if (factor == 1) return;
  taps_ = decimation_taps(factor);
  deal(std::vector<float>(taps_.size() / 2, 0.0f));  // before the take there is silence
}

void Decimator::process(std::span<const float> in, std::vector<float>& out) {
  if (factor_ == 1) {
    out.insert(out.end(), in.begin(), in.end());
    return;
  }
  deal(in);
  filter(out);
}

void Decimator::finish(std::vector<float>& out) {
  if (factor_ == 1) return;
  // Outputs stand at input samples only: the last one has its centre tap on the last sample or before it.
  deal(std::vector<float>(taps_.size() / 2, 0.0f));
  filter(out);
}

void Decimator::deal(std::span<const float> samples) {
  const std::size_t columns = (dealt_ + samples.size()) / factor_ + 1 + outputs_at_once;  // groups may reach beyond
  for (auto& row : rows_) row.resize(std::max(row.size(), columns));
  const auto deal_one = [&](float sample) {
    rows_[dealt_ % factor_][dealt_ / factor_] = sample;
    ++dealt_;
  };
  std::size_t i = 0;
  for (; i < samples.size() && dealt_ % factor_ != 0; ++i) deal_one(samples[i]);
  if (factor_ == 3) {
    const std::size_t whole = (samples.size() - i) / 3;
    const std::size_t column = dealt_ / 3;
    in_widest<DealThrees>(samples.data() + i, whole, &rows_[0][column], &rows_[1][column], &rows_[2][column]);
    dealt_ += 3 * whole;
    i += 3 * whole;
  }
  for (; i < samples.size(); ++i) deal_one(samples[i]);
}

void Decimator::filter(std::vector<float>& out) {
  if (dealt_ < taps_.size()) return;
  const std::size_t ready = (dealt_ - taps_.size()) / factor_ + 1;
  const std::size_t last = taps_.size() - 1;
  const auto place = [&](std::size_t i) { return rows_[i % factor_].data() + i / factor_; };
  std::vector<TapPair> pairs;
  for (std::size_t i = 0; i < last / 2; ++i) {
    if (taps_[i] != 0.0f) pairs.push_back({taps_[i], place(i), place(last - i)});
  }
  pairs.push_back({0.5f * taps_[last / 2], place(last / 2), place(last / 2)});
  const std::size_t before = out.size();
  out.resize(before + (ready + outputs_at_once - 1) / outputs_at_once * outputs_at_once);
  in_widest<FilterGroups>(std::span<const TapPair>(pairs), std::span(out).subspan(before));
  out.resize(before + ready);
  for (auto& row : rows_) std::copy(row.begin() + static_cast<std::ptrdiff_t>(ready), row.end(), row.begin());
  dealt_ -= ready * factor_;
}

}  // namespace windway
