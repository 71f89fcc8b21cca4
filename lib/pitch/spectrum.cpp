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

/// Two complex numbers in one register: what every x86-64 and its like have.
using Two = float __attribute__((vector_size(16)));

Two two_at(const float* from) {
  Two two;
  std::memcpy(&two, from, sizeof two);
  return two;
}

void put(Two two, float* to) { std::memcpy(to, &two, sizeof two); }

Two swapped(Two z) { return __builtin_shufflevector(z, z, 2, 3, 0, 1); }
Two parts_swapped(Two z) { return __builtin_shufflevector(z, z, 1, 0, 3, 2); }

}  // namespace

/// The transform of a real signal by that of half its length: even samples taken for real parts, odd ones for imaginary
/// parts, and the two told apart afterwards. Well known; faster here than the library's own real transforms.
struct Spectrum::Plan {
  explicit Plan(std::size_t length_samples)
      : input(fftwf_alloc_complex(length_samples / 2)), output(fftwf_alloc_complex(length_samples / 2 + 1)) {
    const std::lock_guard lock(planner_mutex());
    // An estimated plan: a timed one would let the last digits hang on the machine's mood.
    plan = fftwf_plan_dft_1d(static_cast<int>(length_samples / 2), input, output, FFTW_FORWARD, FFTW_ESTIMATE);
  }
  ~Plan() {
    const std::lock_guard lock(planner_mutex());
    fftwf_destroy_plan(plan);
    fftwf_free(input);
    fftwf_free(output);
  }
  Plan(const Plan&) = delete;
  Plan& operator=(const Plan&) = delete;

  fftwf_complex* input;
  fftwf_complex* output;
  fftwf_plan plan = nullptr;
};

Spectrum::Spectrum(std::size_t length_samples)
    : length_samples_(length_samples),
      plan_(std::make_unique<Plan>(length_samples)),
      window_(hann_window(length_samples)) {
  assert(length_samples % 2 == 0 && length_samples >= 8);
  for (std::size_t k = 0; k <= length_samples / 2; ++k) {
    const double turn = 2.0 * std::numbers::pi * static_cast<double>(k) / static_cast<double>(length_samples);
    turns_.emplace_back(static_cast<float>(-std::sin(turn)), static_cast<float>(-std::cos(turn)));
  }
}

Spectrum::~Spectrum() = default;

void Spectrum::transform(std::span<const float> samples, SpectrumFrame& frame) {
  assert(samples.size() == length_samples_);
  const std::size_t half = length_samples_ / 2;
  frame.power.resize(half + 1);
  frame.amplitude.resize(half + 1);
  auto* const input = reinterpret_cast<float*>(plan_->input);
  std::transform(samples.begin(), samples.end(), window_.begin(), input, std::multiplies<>());
  fftwf_execute(plan_->plan);
  plan_->output[half][0] = plan_->output[0][0];  // the transform is periodic
  plan_->output[half][1] = plan_->output[0][1];
  tell_apart(reinterpret_cast<const float*>(plan_->output), frame);
}

/// With Z the transform of half length M, N = 2 M, a = Z[k] and b = conj Z[M - k]: X[k] = (a + b)/2 - i e^(-2 pi i k/N)
/// (a - b)/2, and X[M - k] is the conjugate of the same with a plus. Two bins at a time from either end.
void Spectrum::tell_apart(const float* z, SpectrumFrame& frame) const {
  constexpr Two conjugate{0.5F, -0.5F, 0.5F, -0.5F};
  constexpr Two halved{0.5F, 0.5F, 0.5F, 0.5F};
  // The window starts half its length before the time that phases refer to: a sign a bin.
  const float last_sign = length_samples_ % 4 == 0 ? 1.0F : -1.0F;
  constexpr Two signs{1.0F, 1.0F, -1.0F, -1.0F};
  const Two mirrored_signs = signs * Two{-last_sign, last_sign, -last_sign, last_sign};
  const std::size_t half = length_samples_ / 2;
  auto* const amplitude = reinterpret_cast<float*>(frame.amplitude.data());
  const auto* const turns = reinterpret_cast<const float*>(turns_.data());
  for (std::size_t k = 0; k <= half / 2; k += 2) {
    const Two a = halved * two_at(z + 2 * k);
    const Two b = conjugate * swapped(two_at(z + 2 * (half - k - 1)));
    const Two turn = two_at(turns + 2 * k);
    const Two difference = a - b;
    const Two real = __builtin_shufflevector(turn, turn, 0, 0, 2, 2);
    const Two imaginary = __builtin_shufflevector(turn, turn, 1, 1, 3, 3) * Two{-1.0F, 1.0F, -1.0F, 1.0F};
    const Two turned = real * difference + imaginary * parts_swapped(difference);
    put(signs * (a + b + turned), amplitude + 2 * k);
    put(mirrored_signs * swapped(a + b - turned), amplitude + 2 * (half - k - 1));
  }
  for (std::size_t k = 0; k <= half; ++k) frame.power[k] = 0.5F * std::norm(frame.amplitude[k]);
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
