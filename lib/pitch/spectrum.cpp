// SPDX-License-Identifier: GPL-3.0-or-later
#include "pitch/spectrum.hpp"

#include <fftw3.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <functional>
#include <mutex>
#include <new>
#include <numbers>

#include "units/four.hpp"

namespace windway {

namespace {

/// FFTW's planner, unlike its transforms, must not run in two threads at once.
std::mutex& planner_mutex() {
  static std::mutex mutex;
  return mutex;
}

/// Aligned as FFTW likes it.
struct Buffer {
  explicit Buffer(std::size_t count) : data(fftwf_alloc_complex(count)) {
    if (data == nullptr) throw std::bad_alloc();
  }
  ~Buffer() { fftwf_free(data); }
  Buffer(const Buffer&) = delete;
  Buffer& operator=(const Buffer&) = delete;

  fftwf_complex* data;
};

/// Where FFTW's planner finds no memory, it aborts the program: so throws std::bad_alloc where there is less than it
/// may need.
void check_planner_memory() { const Buffer as_much(std::size_t{1} << 17U); }

std::vector<float> hann_window(std::size_t length_samples) {
  std::vector<float> window(length_samples);
  for (std::size_t i = 0; i < length_samples; ++i) {
    const double turn = 2.0 * std::numbers::pi * static_cast<double>(i) / static_cast<double>(length_samples);
    window[i] = static_cast<float>((1.0 - std::cos(turn)) * 2.0 / static_cast<double>(length_samples));
  }
  return window;
}

/// Two complex numbers beside each other, real part first: both with their parts exchanged, and the two exchanged.
Four parts_exchanged(Four two) { return __builtin_shufflevector(two, two, 1, 0, 3, 2); }
Four exchanged(Four two) { return __builtin_shufflevector(two, two, 2, 3, 0, 1); }

}  // namespace

struct Spectrum::Plan {
  explicit Plan(std::size_t length_samples) : input(length_samples / 2), output(length_samples / 2 + 1) {
    const std::lock_guard lock(planner_mutex());
    check_planner_memory();
    // An estimated plan: a timed one would let the last digits hang on the machine's mood.
    plan =
        fftwf_plan_dft_1d(static_cast<int>(length_samples / 2), input.data, output.data, FFTW_FORWARD, FFTW_ESTIMATE);
  }
  ~Plan() {
    const std::lock_guard lock(planner_mutex());
    fftwf_destroy_plan(plan);
  }
  Plan(const Plan&) = delete;
  Plan& operator=(const Plan&) = delete;

  Buffer input;  // real samples, two by two
  Buffer output;
  fftwf_plan plan = nullptr;
};

Spectrum::Spectrum(std::size_t length_samples)
    : length_samples_(length_samples),
      plan_(std::make_unique<Plan>(length_samples)),
      window_(hann_window(length_samples)) {
  assert(length_samples % 2 == 0 && length_samples >= 8);
  for (std::size_t k = 0; k < length_samples / 4 + 2; ++k) {
    const double turn = 2.0 * std::numbers::pi * static_cast<double>(k) / static_cast<double>(length_samples);
    turn_real_.insert(turn_real_.end(), 2, static_cast<float>(-0.5 * std::sin(turn)));
    turn_imaginary_.insert(turn_imaginary_.end(),
                           {static_cast<float>(0.5 * std::cos(turn)), static_cast<float>(-0.5 * std::cos(turn))});
  }
}

Spectrum::~Spectrum() = default;

void Spectrum::transform(std::span<const float> samples, SpectrumFrame& frame) {
  assert(samples.size() == length_samples_);
  // The halves swapped: so phases are those at the middle of the window.
  const auto half = static_cast<std::ptrdiff_t>(length_samples_ / 2);
  auto* const input = reinterpret_cast<float*>(plan_->input.data);
  std::transform(samples.begin() + half, samples.end(), window_.begin() + half, input, std::multiplies<>());
  std::transform(samples.begin(), samples.begin() + half, window_.begin(), input + half, std::multiplies<>());
  fftwf_execute(plan_->plan);
  part_pairs(frame.amplitude);
  frame.power.resize(frame.amplitude.size());
  std::transform(frame.amplitude.begin(), frame.amplitude.end(), frame.power.begin(),
                 [](std::complex<float> x) { return 0.5F * std::norm(x); });
}

/// The spectrum X of n real samples from the spectrum Z of n / 2 pairs of them, each pair taken for one complex number:
///
///   X[k] = (Z[k] + Z*[n/2 - k]) / 2 - i / 2 exp(-2 pi i k / n) (Z[k] - Z*[n/2 - k]),   Z[n/2] = Z[0],
///
/// a third less work than FFTW's own transform of real numbers (H. V. Sorensen et al., IEEE Trans. ASSP 35 (1987) 849;
/// from memory). Two bins at a time, and the two that mirror them.
void Spectrum::part_pairs(std::vector<std::complex<float>>& amplitude) const {
  const std::size_t last = length_samples_ / 2;
  amplitude.resize(last + 1);
  auto* const pairs = reinterpret_cast<float*>(plan_->output.data);
  std::copy_n(pairs, 2, pairs + 2 * last);
  auto* const out = reinterpret_cast<float*>(amplitude.data());
  const Four conjugated{1.0F, -1.0F, 1.0F, -1.0F};
  for (std::size_t k = 0; k <= last / 2; k += 2) {
    const Four here = four_at(pairs + 2 * k), mirrored = exchanged(four_at(pairs + 2 * (last - k - 1))) * conjugated;
    const Four even = 0.5F * (here + mirrored), odd = here - mirrored;
    const Four turned = four_at(&turn_real_[2 * k]) * odd + four_at(&turn_imaginary_[2 * k]) * parts_exchanged(odd);
    put(even + turned, out + 2 * k);
    put(exchanged((even - turned) * conjugated), out + 2 * (last - k - 1));
  }
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
