// SPDX-License-Identifier: GPL-3.0-or-later
#include "pitch/spectrum.hpp"

#include <fftw3.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstring>
#include <functional>
#include <mutex>
#include <numbers>

namespace windway {

namespace {

/// FFTW's planner, unlike its transforms, must not run in two threads at once.
std::mutex& planner_mutex() {
  static std::mutex mutex;
  return mutex;
}

std::vector<float> hann_window(std::size_t length_samples) {
  std::vector<float> window(length_samples);
  for (std::size_t i = 0; i < length_samples; ++i) {
    const double turn = 2.0 * std::numbers::pi * static_cast<double>(i) / static_cast<double>(length_samples);
    window[i] = static_cast<float>((1.0 - std::cos(turn)) * 2.0 / static_cast<double>(length_samples));
  }
  return window;
}

}  // namespace

struct Spectrum::Plan {
  explicit Plan(std::size_t length_samples)
      : input(fftwf_alloc_real(length_samples)), output(fftwf_alloc_complex(length_samples / 2 + 1)) {
    const std::lock_guard lock(planner_mutex());
    // An estimated plan: a timed one would let the last digits hang on the machine's mood.
    plan = fftwf_plan_dft_r2c_1d(static_cast<int>(length_samples), input, output, FFTW_ESTIMATE);
  }
  ~Plan() {
    const std::lock_guard lock(planner_mutex());
    fftwf_destroy_plan(plan);
    fftwf_free(input);
    fftwf_free(output);
  }
  Plan(const Plan&) = delete;
  Plan& operator=(const Plan&) = delete;

  float* input;
  fftwf_complex* output;
  fftwf_plan plan = nullptr;
};

Spectrum::Spectrum(std::size_t length_samples)
    : length_samples_(length_samples),
      plan_(std::make_unique<Plan>(length_samples)),
      window_(hann_window(length_samples)) {
  assert(length_samples % 2 == 0 && length_samples >= 8);
}

Spectrum::~Spectrum() = default;

void Spectrum::transform(std::span<const float> samples, SpectrumFrame& frame) {
  assert(samples.size() == length_samples_);
  const std::size_t bins = length_samples_ / 2 + 1;
  frame.power.resize(bins);
  frame.amplitude.resize(bins);
  // The halves swapped: so phases are those at the middle of the window.
  const auto half = static_cast<std::ptrdiff_t>(length_samples_ / 2);
  std::transform(samples.begin() + half, samples.end(), window_.begin() + half, plan_->input, std::multiplies<>());
  std::transform(samples.begin(), samples.begin() + half, window_.begin(), plan_->input + half, std::multiplies<>());
  fftwf_execute(plan_->plan);
  std::memcpy(static_cast<void*>(frame.amplitude.data()), plan_->output, bins * sizeof *plan_->output);
  for (std::size_t k = 0; k < bins; ++k) frame.power[k] = 0.5F * std::norm(frame.amplitude[k]);
}

double hann_lobe(double offset_bins) {
  const double x = std::abs(offset_bins);
  if (x <= 0.5) {  // asked for every harmonic of every frame: the sine by its series, to 1e-11
    const double y = std::numbers::pi * std::numbers::pi * x * x;
    double sinc = 1.0;
    for (int n = 14; n >= 2; n -= 2) sinc = 1.0 - y * (1.0 / (n * (n + 1))) * sinc;
    return sinc / (1.0 - x * x);
  }
  if (std::abs(x - 1.0) < 1e-6) return 0.5;
  return std::sin(std::numbers::pi * x) / (std::numbers::pi * x * (1.0 - x * x));
}

std::size_t fast_length_samples(std::size_t samples) {
  for (std::size_t length = samples + samples % 2;; length += 2) {
    std::size_t rest = length;
    for (const std::size_t prime : {2U, 3U, 5U}) {
      while (rest % prime == 0) rest /= prime;
    }
    if (rest == 1) return length;
  }
}

}  // namespace windway
