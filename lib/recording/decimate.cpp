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

// The same code once more for processors with wider registers, chosen when the program starts. (The sanitizers'
// runtimes are not up yet when that choice is made, and Clang 14 does not offer it.)
#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__) && !defined(__SANITIZE_ADDRESS__) && \
    !defined(__SANITIZE_THREAD__)
#define WINDWAY_WIDE __attribute__((target_clones("default", "arch=x86-64-v3")))
#else
#define WINDWAY_WIDE
#endif

// Several partial sums in a fixed order: the compiler can keep them in vector registers without reordering a sum.
inline float dot(const float* taps, const float* samples, std::size_t count) {
  std::array<float, lanes> sums{};
  for (std::size_t i = 0; i < count; i += lanes) {
    for (std::size_t lane = 0; lane < lanes; ++lane) sums[lane] += taps[i + lane] * samples[i + lane];
  }
  return ((sums[0] + sums[4]) + (sums[1] + sums[5])) + ((sums[2] + sums[6]) + (sums[3] + sums[7]));
}

/// Dot products of the taps with the samples from each `step`-th on, as many as `out` holds.
WINDWAY_WIDE void dots(const float* taps, std::size_t count, const float* samples, std::size_t step,
                       std::span<float> out) {
  for (std::size_t k = 0; k < out.size(); ++k) out[k] = dot(taps, samples + k * step, count);
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
  if (next_ + taps_.size() <= pending_.size()) {
    const std::size_t ready = (pending_.size() - taps_.size() - next_) / factor_ + 1;
    out.resize(out.size() + ready);
    dots(taps_.data(), taps_.size(), pending_.data() + next_, factor_, std::span(out).last(ready));
    next_ += ready * factor_;
  }
  // A step may go beyond what is there; the rest of it is taken when the next block has come.
  const std::size_t done = std::min(next_, pending_.size());
  pending_.erase(pending_.begin(), pending_.begin() + static_cast<std::ptrdiff_t>(done));
  next_ -= done;
}

}  // namespace windway
