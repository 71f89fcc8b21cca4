// SPDX-License-Identifier: GPL-3.0-or-later
#include "holds/frequency_wander.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <span>

namespace windway {

namespace {

constexpr std::size_t frames_to_start = 3;  // phases that fix the initial state

/// A number for each of several wanders, which are tried side by side: none waits for another's arithmetic.
constexpr std::size_t lanes = 4;
using Numbers = double __attribute__((vector_size(lanes * sizeof(double))));
using Wanders = std::array<FrequencyWander, lanes>;

/// Growth of the state in a hop, for each wander.
struct Growth {
  Numbers pp{}, pf{}, ps{}, ff{}, fs{}, ss{};

  Growth(const Wanders& wanders, double hop_s) {
    for (std::size_t i = 0; i < lanes; ++i) {
      const StateCovariance grows = growth_in_hop(wanders[i], hop_s);
      pp[i] = grows.pp, pf[i] = grows.pf, ps[i] = grows.ps;
      ff[i] = grows.ff, fs[i] = grows.fs, ss[i] = grows.ss;
    }
  }
};

/// Kalman filters of phase, frequency and slope in plain numbers: much of the work of a hold is done here. The noise of
/// all frames is the same, so what a filter knows settles soon and need not be found anew.
class LikelihoodFilters {
 public:
  LikelihoodFilters(const Wanders& wanders, double noise_rad2, double hop_s, double window_s, double first_rad)
      : grows_(wanders, hop_s),
        noise_rad2_(noise_rad2),
        hop_s_(hop_s),
        seen_s2_(slope_seen_s2(window_s)),
        phase_(Numbers{} + first_rad) {
    for (std::size_t i = 0; i < lanes; ++i) ss_[i] = wanders[i].has_slope ? start_slope_rad2 : 0.0;
  }

  void predict() {
    const double h = hop_s_;
    phase_ += h * (frequency_ + 0.5 * h * slope_);
    frequency_ += h * slope_;
    if (settled_) return;
    const Numbers ps_next = ps_ + h * (fs_ + 0.5 * h * ss_);
    const Numbers pf_next = pf_ + h * (ff_ + 0.5 * h * fs_) + h * ps_next;
    pp_ += h * (pf_ + 0.5 * h * ps_) + h * (pf_next - h * ps_next) + 0.5 * h * h * ps_next + grows_.pp;
    pf_ = pf_next + grows_.pf;
    ps_ = ps_next + grows_.ps;
    ff_ += h * (2.0 * fs_ + h * ss_) + grows_.ff;
    fs_ += h * ss_ + grows_.fs;
    ss_ += grows_.ss;
  }

  void update(double phase_rad) {
    innovation_rad_ = phase_rad - phase_ - seen_s2_ * slope_;
    if (!settled_) update_covariance();
    phase_ += phase_gain_ * innovation_rad_;
    frequency_ += frequency_gain_ * innovation_rad_;
    slope_ += slope_gain_ * innovation_rad_;
  }
  /// Of the last update.
  const Numbers& innovation_rad() const { return innovation_rad_; }
  const Numbers& variance_rad2() const { return variance_rad2_; }
  /// The variance is that of the frame before.
  bool settled() const { return settled_; }

 private:
  void update_covariance() {
    const Numbers cp = pp_ + seen_s2_ * ps_, cf = pf_ + seen_s2_ * fs_, cs = ps_ + seen_s2_ * ss_;
    const Numbers before = variance_rad2_;
    variance_rad2_ = cp + seen_s2_ * cs + noise_rad2_;
    settled_ = ++updates_ > frames_to_start && is_same(variance_rad2_, before);
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

  static bool is_same(const Numbers& variance, const Numbers& before) {
    constexpr double same = 1e-7;  // of the variance
    bool all = true;
    for (std::size_t i = 0; i < lanes; ++i) all = all && std::abs(variance[i] - before[i]) < same * variance[i];
    return all;
  }

  Growth grows_;
  double noise_rad2_, hop_s_, seen_s2_;
  Numbers phase_, frequency_{}, slope_{};
  // Their covariance.
  Numbers pp_ = Numbers{} + start_phase_rad2, pf_{}, ps_{}, ff_ = Numbers{} + start_frequency_rad2, fs_{}, ss_{};
  Numbers phase_gain_{}, frequency_gain_{}, slope_gain_{};
  Numbers innovation_rad_{}, variance_rad2_{};
  std::size_t updates_ = 0;  // of the covariance
  bool settled_ = false;
};

std::array<double, lanes> log_likelihoods(const std::vector<double>& phase_rad, double noise_rad2, double hop_s,
                                          double window_s, const Wanders& wanders) {
  LikelihoodFilters filters(wanders, noise_rad2, hop_s, window_s, phase_rad.front());
  Numbers squares{}, log_variance{}, log_variances{};
  for (std::size_t i = 0; i < phase_rad.size(); ++i) {
    if (i > 0) filters.predict();
    filters.update(phase_rad[i]);
    if (i < frames_to_start) continue;
    squares += filters.innovation_rad() * filters.innovation_rad() / filters.variance_rad2();
    for (std::size_t k = 0; k < lanes && !filters.settled(); ++k)
      log_variance[k] = std::log(filters.variance_rad2()[k]);
    log_variances += log_variance;
  }
  const Numbers log_likelihood = -0.5 * (log_variances + squares);
  return {log_likelihood[0], log_likelihood[1], log_likelihood[2], log_likelihood[3]};
}

/// A wander to try: of this many decades, of the frequency or of its slope; without decades, none.
struct Trial {
  bool slope = false;
  std::optional<double> decade;
  double log_likelihood = 0;

  FrequencyWander wander() const {
    const double power = decade ? std::pow(10.0, *decade) : 0.0;
    return slope ? FrequencyWander{0.0, power, true} : FrequencyWander{power, 0.0, false};
  }
};

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

std::optional<FrequencyWander> likeliest_wander(const std::vector<double>& phase_rad, double noise_rad2, double hop_s,
                                                double window_s) {
  constexpr double likelier = 2.0;  // than a steady tone by this much, in log likelihood: else it is taken for one
  Trial best;
  const auto try_all = [&](std::vector<Trial> trials) {
    for (std::size_t first = 0; first < trials.size(); first += lanes) {
      const auto some = std::span(trials).subspan(first, std::min(lanes, trials.size() - first));
      Wanders wanders{};
      for (std::size_t i = 0; i < some.size(); ++i) wanders[i] = some[i].wander();
      const auto log_likelihood = log_likelihoods(phase_rad, noise_rad2, hop_s, window_s, wanders);
      for (std::size_t i = 0; i < some.size(); ++i) some[i].log_likelihood = log_likelihood[i];
    }
    if (!best.decade) best.log_likelihood = trials.front().log_likelihood + likelier;
    for (const Trial& trial : trials) {
      if (trial.decade && trial.log_likelihood > best.log_likelihood) best = trial;
    }
  };
  std::vector<Trial> coarse{{}};
  for (double decade = -9.0; decade <= 7.0; decade += 2.0) coarse.push_back({false, decade});
  for (double decade = -5.0; decade <= 13.0; decade += 2.0) coarse.push_back({true, decade});
  try_all(std::move(coarse));
  for (const double step : {1.0, 0.5}) {
    if (best.decade) try_all({{best.slope, *best.decade - step}, {best.slope, *best.decade + step}});
  }
  return best.decade ? std::optional(best.wander()) : std::nullopt;
}

}  // namespace windway
