// SPDX-License-Identifier: GPL-3.0-or-later
#include "holds/frequency_wander.hpp"

#include <cmath>
#include <cstddef>
#include <numbers>

namespace windway {

namespace {

constexpr std::size_t frames_to_start = 3;  // phases that tell where the tone starts, not how it goes on

/// Kalman filter of phase, frequency and slope in plain numbers: most of the work of a hold is done here. The noise of
/// all frames but those at a sudden end is the same, so what the filter knows settles soon and need not be found anew.
class LikelihoodFilter {
 public:
  LikelihoodFilter(const FrequencyWander& wander, double hop_s, double window_s, double first_rad)
      : grows_(growth_in_hop(wander, hop_s)), hop_s_(hop_s), seen_s2_(slope_seen_s2(window_s)), phase_(first_rad) {
    if (wander.has_slope) ss_ = start_slope_rad2;
  }

  void predict() {
    const double h = hop_s_;
    phase_ += h * (frequency_ + 0.5 * h * slope_);
    frequency_ += h * slope_;
    if (settled_) return;
    const double ps_next = ps_ + h * (fs_ + 0.5 * h * ss_);
    const double pf_next = pf_ + h * (ff_ + 0.5 * h * fs_) + h * ps_next;
    pp_ += h * (pf_ + 0.5 * h * ps_) + h * (pf_next - h * ps_next) + 0.5 * h * h * ps_next + grows_.pp;
    pf_ = pf_next + grows_.pf;
    ps_ = ps_next + grows_.ps;
    ff_ += h * (2.0 * fs_ + h * ss_) + grows_.ff;
    fs_ += h * ss_ + grows_.fs;
    ss_ += grows_.ss;
  }

  struct Innovation {
    double rad, variance_rad2;
  };
  Innovation update(double phase_rad, double noise_rad2) {
    if (noise_rad2 != noise_rad2_) settled_ = false;
    noise_rad2_ = noise_rad2;
    const double innovation = phase_rad - phase_ - seen_s2_ * slope_;
    if (!settled_) update_covariance(noise_rad2);
    phase_ += phase_gain_ * innovation;
    frequency_ += frequency_gain_ * innovation;
    slope_ += slope_gain_ * innovation;
    return {innovation, variance_rad2_};
  }

 private:
  void update_covariance(double noise_rad2) {
    constexpr double same = 1e-7;  // of the variance
    const double cp = pp_ + seen_s2_ * ps_, cf = pf_ + seen_s2_ * fs_, cs = ps_ + seen_s2_ * ss_;
    const double before = variance_rad2_;
    variance_rad2_ = cp + seen_s2_ * cs + noise_rad2;
    settled_ = ++updates_ > frames_to_start && std::abs(variance_rad2_ - before) < same * variance_rad2_;
    phase_gain_ = cp / variance_rad2_;
    frequency_gain_ = cf / variance_rad2_;
    slope_gain_ = cs / variance_rad2_;
    pp_ -= phase_gain_ * cp;
    pf_ -= phase_gain_ * cf;
    ps_ -= phase_gain_ * cs;
    ff_ -= frequency_gain_ * cf;
    fs_ -= frequency_gain_ * cs;
    ss_ -= slope_gain_ * cs;
  }

  StateCovariance grows_;
  double hop_s_, seen_s2_;
  double phase_, frequency_ = 0, slope_ = 0;
  double pp_ = start_phase_rad2, pf_ = 0, ps_ = 0, ff_ = start_frequency_rad2, fs_ = 0, ss_ = 0;  // their covariance
  double phase_gain_ = 0, frequency_gain_ = 0, slope_gain_ = 0;
  double noise_rad2_ = 0, variance_rad2_ = 0;
  std::size_t updates_ = 0;  // of the covariance
  bool settled_ = false;
};

double log_likelihood(const std::vector<double>& phase_rad, const std::vector<double>& noise_rad2, double hop_s,
                      double window_s, const FrequencyWander& wander) {
  LikelihoodFilter filter(wander, hop_s, window_s, phase_rad.front());
  double log_variance = 0, squares = 0, product = 1.0;
  for (std::size_t i = 0; i < phase_rad.size(); ++i) {
    if (i > 0) filter.predict();
    const auto innovation = filter.update(phase_rad[i], noise_rad2[i]);
    if (i < frames_to_start) continue;
    squares += innovation.rad * innovation.rad / innovation.variance_rad2;
    product *= innovation.variance_rad2;  // logarithms are dear: one for several factors
    if (product < 1e-200 || product > 1e200) {
      log_variance += std::log(product);
      product = 1.0;
    }
  }
  return -0.5 * (log_variance + std::log(product) + squares);
}

}  // namespace

StateCovariance growth_in_hop(const FrequencyWander& wander, double hop_s) {
  const double h = hop_s, h2 = h * h, h3 = h2 * h;
  const double f = wander.frequency, s = wander.slope;
  return {.pp = f * h3 / 3.0 + s * h2 * h3 / 20.0,
          .pf = f * h2 / 2.0 + s * h2 * h2 / 8.0,
          .ps = s * h3 / 6.0,
          .ff = f * h + s * h3 / 3.0,
          .fs = s * h2 / 2.0,
          .ss = s * h};
}

double slope_seen_s2(double window_s) {
  constexpr double hann_variance = 1.0 / 12.0 - 0.5 / (std::numbers::pi * std::numbers::pi);  // in square windows
  return 0.5 * hann_variance * window_s * window_s;
}

std::optional<FrequencyWander> likeliest_wander(const std::vector<double>& phase_rad,
                                                const std::vector<double>& noise_rad2, double hop_s, double window_s) {
  constexpr double likelier = 2.0;  // than a steady tone by this much, in log likelihood: else it is taken for one
  std::optional<FrequencyWander> found;
  double best = log_likelihood(phase_rad, noise_rad2, hop_s, window_s, {}) + likelier;
  double best_decade = 0;
  const auto try_decade = [&](bool slope, double decade) {
    const double power = std::pow(10.0, decade);
    const FrequencyWander wander = slope ? FrequencyWander{0.0, power, true} : FrequencyWander{power, 0.0, false};
    const double likelihood = log_likelihood(phase_rad, noise_rad2, hop_s, window_s, wander);
    if (likelihood <= best) return;
    best = likelihood;
    best_decade = decade;
    found = wander;
  };
  for (double decade = -9.0; decade <= 7.0; decade += 2.0) try_decade(false, decade);
  for (double decade = -5.0; decade <= 13.0; decade += 2.0) try_decade(true, decade);
  for (const double step : {1.0, 0.5}) {
    if (!found) break;
    const double from = best_decade;
    const bool slope = found->has_slope;
    try_decade(slope, from - step);
    try_decade(slope, from + step);
  }
  return found;
}

}  // namespace windway
