// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <algorithm>
#include <cmath>
#include <complex>
#include <cstddef>
#include <memory>
#include <span>
#include <vector>

namespace windway {

/// One window's spectrum. Phases are those at the middle of the window, so a tone keeps the same phase in every bin of
/// its main lobe.
struct SpectrumFrame {
  std::vector<float> power;  ///< a sine of amplitude A on a bin shows A^2 / 2, its neighbours' main lobe not counted
  std::vector<std::complex<float>> amplitude;  ///< modulus A for a sine of amplitude A on the bin
};

/// Hann-windowed spectra of one fixed length.
class Spectrum {
 public:
  /// `length_samples` must be even, and 8 at least.
  explicit Spectrum(std::size_t length_samples);
  ~Spectrum();
  Spectrum(const Spectrum&) = delete;
  Spectrum& operator=(const Spectrum&) = delete;

  std::size_t length_samples() const { return length_samples_; }

  /// Transforms one window into `frame`; `samples` must hold length_samples() values.
  void transform(std::span<const float> samples, SpectrumFrame& frame);

 private:
  struct Plan;
  void part_pairs(std::vector<std::complex<float>>& amplitude) const;

  std::size_t length_samples_;
  std::unique_ptr<Plan> plan_;
  std::vector<float> window_;
  std::vector<float> turn_real_, turn_imaginary_;  // of part_pairs, each twice, for the two parts it multiplies
};

/// Equivalent noise bandwidth of the Hann window (F. J. Harris, Proc. IEEE 66 (1978) 51).
inline constexpr double hann_noise_bins = 1.5;

/// The bin nearest to a place in a spectrum, in bins, never negative. Asked for every harmonic of every frame, where
/// lround would be a call, and numbers beyond 2^63 need a case of their own.
inline std::size_t nearest_bin(double place_bins) {
  return static_cast<std::size_t>(
      static_cast<std::ptrdiff_t>(place_bins + 0.5));  // NOLINT(bugprone-incorrect-roundings)
}

/// Modulus of the Hann window's transform `offset_bins` from the middle of its main lobe, 1 in the middle.
double hann_lobe(double offset_bins);

/// Where in bins, from -0.5 to 0.5, a lone tone stands beside its strongest bin, from the powers of that bin and its
/// two neighbours. Exact for a steady tone without noise (T. Grandke, IEEE Trans. Instrum. Meas. 32 (1983) 350; from
/// memory).
inline double hann_peak_offset_bins(double power_below, double power_at, double power_above) {
  const bool up = power_above >= power_below;
  const double ratio = std::sqrt(std::max(up ? power_above : power_below, 0.0) / power_at);
  const double offset = std::clamp((2.0 * ratio - 1.0) / (ratio + 1.0), 0.0, 0.5);
  return up ? offset : -offset;
}

/// The next even length at or above `samples` whose only prime factors are 2, 3 and 5.
std::size_t fast_length_samples(std::size_t samples);

}  // namespace windway
