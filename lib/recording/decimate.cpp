// SPDX-License-Identifier: GPL-3.0-or-later
#include "recording/decimate.hpp"

#include <algorithm>
#include <array>
#include <boost/math/special_functions/bessel.hpp>
#include <cmath>
#include <numbers>

namespace windway {
namespace {

constexpr int least_working_rate_hz = 14000;  // keeps the third harmonic of the highest recorder
constexpr double passband_edge = 0.4;         // of the working rate
constexpr double stopband_edge = 0.6;         // its alias is the pass band's edge
constexpr double attenuation_db = 90.0;       // 5 dB more than needed: the taps are rounded

constexpr std::size_t outputs_at_once = 16;  // four registers of any x86-64: their additions overlap

/// A tap and the two samples, symmetric about the centre, that it multiplies for the first output.
struct TapPair {
  float tap;
  const float* before;
  const float* after;
};

/// The sums over all taps, for whole groups of outputs_at_once outputs. The samples of the next output are one place
/// on.
void filter_groups(std::span<const TapPair> pairs, std::span<float> out) {
  for (std::size_t k = 0; k < out.size(); k += outputs_at_once) {
    std::array<float, outputs_at_once> sums{};
    for (const TapPair& pair : pairs) {
      for (std::size_t i = 0; i < outputs_at_once; ++i) sums[i] += pair.tap * (pair.before[k + i] + pair.after[k + i]);
    }
    std::copy(sums.begin(), sums.end(), &out[k]);
  }
}

double sinc(double x) { return x == 0.0 ? 1.0 : std::sin(std::numbers::pi * x) / (std::numbers::pi * x); }

/// Symmetric, an odd number of them; `factor` > 1.
std::vector<float> decimation_taps(int factor) {
  const double transition = (stopband_edge - passband_edge) / factor;  // cycles per input sample
  const double cutoff = (stopband_edge + passband_edge) / factor;      // twice the middle of the transition
  // Length and shape of the window by Kaiser and Schafer.
  const auto half = static_cast<int>(std::ceil((attenuation_db - 7.95) / (14.36 * transition) / 2));
  const double beta = 0.1102 * (attenuation_db - 8.7);
  std::vector<double> exact;
  double sum = 0.0;
  for (int i = -half; i <= half; ++i) {
    const double x = static_cast<double>(i) / half;
    const bool on_zero = i != 0 && i % factor == 0;  // zero of the sinc: its cutoff is half the working rate
    exact.push_back(on_zero ? 0.0 : sinc(cutoff * i) * boost::math::cyl_bessel_i(0, beta * std::sqrt(1.0 - x * x)));
    sum += exact.back();
  }
  std::vector<float> taps;
  for (const double tap : exact) taps.push_back(static_cast<float>(tap / sum));
  return taps;
}

}  // namespace

int decimation_factor(int rate_hz) { return std::max(1, rate_hz / least_working_rate_hz); }

Decimator::Decimator(int factor) : factor_(static_cast<std::size_t>(factor)), rows_(factor_) {
  if (factor == 1) return;
  taps_ = decimation_taps(factor);
  store(std::vector<float>(taps_.size() / 2, 0.0f));  // silence before the take
}

void Decimator::process(std::span<const float> in, std::vector<float>& out) {
  if (factor_ == 1) {
    out.insert(out.end(), in.begin(), in.end());
    return;
  }
  store(in);
  filter(out);
}

void Decimator::finish(std::vector<float>& out) {
  if (factor_ == 1) return;
  // The last output has its centre tap on the last input sample or before it.
  store(std::vector<float>(taps_.size() / 2, 0.0f));
  filter(out);
}

void Decimator::store(std::span<const float> samples) {
  const std::size_t columns =
      (stored_ + samples.size()) / factor_ + 1 + outputs_at_once;  // the last group may be incomplete
  for (auto& row : rows_) row.resize(std::max(row.size(), columns));
  for (std::size_t first = 0; first < std::min(factor_, samples.size()); ++first) {
    const std::size_t place = stored_ + first;
    float* to = &rows_[place % factor_][place / factor_];
    for (std::size_t i = first; i < samples.size(); i += factor_) *to++ = samples[i];
  }
  stored_ += samples.size();
}

void Decimator::filter(std::vector<float>& out) {
  if (stored_ < taps_.size()) return;
  const std::size_t ready = (stored_ - taps_.size()) / factor_ + 1;
  const std::size_t last = taps_.size() - 1;
  const auto place = [&](std::size_t i) { return rows_[i % factor_].data() + i / factor_; };
  std::vector<TapPair> pairs;
  for (std::size_t i = 0; i < last / 2; ++i) {
    if (taps_[i] != 0.0f) pairs.push_back({taps_[i], place(i), place(last - i)});
  }
  pairs.push_back({0.5f * taps_[last / 2], place(last / 2), place(last / 2)});
  const std::size_t before = out.size();
  out.resize(before + (ready + outputs_at_once - 1) / outputs_at_once * outputs_at_once);
  filter_groups(pairs, std::span(out).subspan(before));
  out.resize(before + ready);
  for (auto& row : rows_) std::copy(row.begin() + static_cast<std::ptrdiff_t>(ready), row.end(), row.begin());
  stored_ -= ready * factor_;
}

}  // namespace windway
