// SPDX-License-Identifier: GPL-3.0-or-later
#include "recording/decimate.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace windway {
namespace {

constexpr int least_working_rate_hz = 14000;  // the highest recorder's third harmonic still lies below its half
constexpr double passband_edge = 0.4;         // of the working rate
constexpr double stopband_edge = 0.6;         // folds back to the pass band's edge, no further
constexpr double attenuation_db = 90.0;       // 5 dB in hand for the rounding of the taps
constexpr std::size_t lanes = 8;              // two SSE registers: hides the latency of the additions

// Several partial sums in a fixed order: the compiler can keep them in vector registers without reordering a sum.
float dot(const float* taps, const float* samples, std::size_t count) {
  std::array<float, lanes> sums{};
  for (std::size_t i = 0; i < count; i += lanes) {
    for (std::size_t lane = 0; lane < lanes; ++lane) sums[lane] += taps[i + lane] * samples[i + lane];
  }
  return ((sums[0] + sums[4]) + (sums[1] + sums[5])) + ((sums[2] + sums[6]) + (sums[3] + sums[7]));
}

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
    exact.push_back(sinc(cutoff * i) * std::cyl_bessel_i(0.0, beta * std::sqrt(1.0 - x * x)));
    sum += exact.back();
  }
  std::vector<float> taps;
  for (const double tap : exact) taps.push_back(static_cast<float>(tap / sum));
  return taps;
}

Decimator::Decimator(int factor) : factor_(static_cast<std::size_t>(factor)) {
  if (factor == 1) return;
  taps_ = decimation_taps(factor);
  centre_ = taps_.size() / 2;
  taps_.resize((taps_.size() + lanes - 1) / lanes * lanes, 0.0f);
  pending_.assign(centre_, 0.0f);  // before the take there is silence
}

void Decimator::process(std::span<const float> in, std::vector<float>& out) {
  if (factor_ == 1) {
    out.insert(out.end(), in.begin(), in.end());
    return;
  }
  pending_.insert(pending_.end(), in.begin(), in.end());
  filter(out);
}

void Decimator::finish(std::vector<float>& out) {
  if (factor_ == 1) return;
  // Outputs stand at input samples only: the last one has its centre tap on the last sample or before it.
  const std::size_t silence = taps_.size() - centre_ - 1;
  pending_.insert(pending_.end(), silence, 0.0f);
  filter(out);
}

void Decimator::filter(std::vector<float>& out) {
  for (; next_ + taps_.size() <= pending_.size(); next_ += factor_) {
    out.push_back(dot(taps_.data(), pending_.data() + next_, taps_.size()));
  }
  // A step may go beyond what is there; the rest of it is taken when the next block has come.
  const std::size_t done = std::min(next_, pending_.size());
  pending_.erase(pending_.begin(), pending_.begin() + static_cast<std::ptrdiff_t>(done));
  next_ -= done;
}

}  // namespace windway
