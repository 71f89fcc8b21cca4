// SPDX-License-Identifier: GPL-3.0-or-later
#include "holds/smoothed_phase.hpp"

#include <Eigen/Cholesky>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>

#include "holds/frequency_wander.hpp"

namespace windway {

namespace {

// Neighbouring windows share samples: their noise is that of independent frames this much noisier (the integral of the
// Hann window's autocorrelation is two thirds of its length).
constexpr double hann_correlation_share = 2.0 / 3.0;

Eigen::Matrix4d step_matrix(double hop_s) {
  Eigen::Matrix4d f = Eigen::Matrix4d::Identity();
  f(0, 1) = f(1, 2) = hop_s;
  f(0, 2) = 0.5 * hop_s * hop_s;
  return f;
}

/// Kalman filter; the fourth state keeps the first phase, so that the last frame's estimate holds the phase gained over
/// the span with its variance.
struct Filter {
  Eigen::Matrix4d step;
  Eigen::Matrix4d grows = Eigen::Matrix4d::Zero();
  Eigen::RowVector4d seen = Eigen::RowVector4d::Zero();  // what a phase read shows of the state
  Eigen::Vector4d state = Eigen::Vector4d::Zero();
  Eigen::Matrix4d covariance = Eigen::Matrix4d::Zero();

  Filter(const FrequencyWander& wander, const PhaseNoise& noise, double first_rad) : step(step_matrix(noise.hop_s)) {
    state(0) = state(3) = first_rad;
    const StateCovariance g = growth_in_hop(wander, noise.hop_s);
    grows.topLeftCorner<3, 3>() << g.pp, g.pf, g.ps, g.pf, g.ff, g.fs, g.ps, g.fs, g.ss;
    seen(0) = 1.0;
    seen(2) = slope_seen_s2(noise.window_s);
    covariance(0, 0) = covariance(0, 3) = covariance(3, 0) = covariance(3, 3) = start_phase_rad2;
    covariance(1, 1) = start_frequency_rad2;
    covariance(2, 2) = wander.has_slope ? start_slope_rad2 : 0.0;
  }
  void predict() {
    state = step * state;
    covariance = step * covariance * step.transpose() + grows;
  }
  void update(double phase_rad, double noise_rad2) {
    const Eigen::Vector4d seen_covariance = covariance * seen.transpose();
    const Eigen::Vector4d gain = seen_covariance / (seen * seen_covariance + noise_rad2);
    state += gain * (phase_rad - seen * state);
    covariance -= gain * seen_covariance.transpose();
  }
};

struct Filtered {
  std::vector<Eigen::Vector4d> state, predicted;
  std::vector<Eigen::Matrix4d> covariance, predicted_covariance;
};

Filtered filtered(const std::vector<double>& phase_rad, double noise_rad2, const FrequencyWander& wander,
                  const PhaseNoise& noise) {
  Filter filter(wander, noise, phase_rad.front());
  Filtered out;
  for (std::size_t i = 0; i < phase_rad.size(); ++i) {
    if (i > 0) filter.predict();
    out.predicted.push_back(filter.state);
    out.predicted_covariance.push_back(filter.covariance);
    filter.update(phase_rad[i], noise_rad2);
    out.state.push_back(filter.state);
    out.covariance.push_back(filter.covariance);
  }
  return out;
}

/// Rauch-Tung-Striebel smoother: the frequency at every frame from all frames.
std::vector<double> smoothed_rad_s(const Filtered& f, const FrequencyWander& wander, double hop_s) {
  const Eigen::Matrix4d step = step_matrix(hop_s);
  std::vector<double> rad_s(f.state.size());
  const auto smooth = [&]<int states>() {
    using Vector = Eigen::Matrix<double, states, 1>;
    using Matrix = Eigen::Matrix<double, states, states>;
    const Vector per_hop = Eigen::Vector3d(1.0, hop_s, hop_s * hop_s).head<states>();
    Vector next = f.state.back().head<states>();
    rad_s.back() = next(1);
    for (std::size_t i = f.state.size() - 1; i-- > 0;) {
      const Matrix covariance = f.covariance[i].topLeftCorner<states, states>();
      const Matrix ahead = f.predicted_covariance[i + 1].topLeftCorner<states, states>();
      // In turns a hop, all states are of one size, and what is known well and what is not may stand side by side.
      const Matrix scaled = per_hop.asDiagonal() * ahead * per_hop.asDiagonal();
      const Matrix crossed = per_hop.asDiagonal() * step.topLeftCorner<states, states>() * covariance;
      const Matrix gain = scaled.fullPivLu().solve(crossed).transpose() * per_hop.asDiagonal();
      next = f.state[i].head<states>() + gain * (next - f.predicted[i + 1].head<states>());
      rad_s[i] = next(1);
    }
  };
  if (wander.has_slope) {
    smooth.operator()<3>();
  } else {
    smooth.operator()<2>();
  }
  return rad_s;
}

PhaseGain wandering_gain(const std::vector<double>& phase_rad, double noise_rad2, const FrequencyWander& wander,
                         const PhaseNoise& noise) {
  const Filtered f = filtered(phase_rad, noise_rad2, wander, noise);
  const Eigen::Matrix4d& p = f.covariance.back();
  return {f.state.back()(0) - f.state.back()(3), std::max(p(0, 0) + p(3, 3) - 2.0 * p(0, 3), 0.0),
          smoothed_rad_s(f, wander, noise.hop_s)};
}

/// Autocorrelation of the Hann window at a lag in window lengths, 1 at none.
double hann_correlation(double lag) {
  if (lag >= 1.0) return 0.0;
  const double turn = 2.0 * std::numbers::pi * lag;
  return ((1.0 - lag) * (2.0 + std::cos(turn)) + 1.5 / std::numbers::pi * std::sin(turn)) / 3.0;
}

Eigen::MatrixXd noise_covariance(const PhaseNoise& noise, Eigen::Index n) {
  constexpr double noise_besides = 0.02;  // of a frame's, by itself: rounding, side lobes
  Eigen::MatrixXd covariance(n, n);
  for (Eigen::Index i = 0; i < n; ++i) {
    for (Eigen::Index j = 0; j < n; ++j) {
      const double lag = std::abs(static_cast<double>(i - j)) * noise.hop_s / noise.window_s;
      covariance(i, j) = noise.frame_rad2 * (hann_correlation(lag) + (i == j ? noise_besides : 0.0));
    }
  }
  return covariance;
}

/// A line through the phases, each weighted by what it adds to the others.
PhaseGain steady_gain(const std::vector<double>& phase_rad, const PhaseNoise& noise) {
  const auto n = static_cast<Eigen::Index>(phase_rad.size());
  Eigen::MatrixXd line(n, 2);
  line.col(0).setOnes();
  line.col(1).setLinSpaced(n, -0.5, 0.5);  // the slope is the gain over the span
  const Eigen::LLT<Eigen::MatrixXd> covariance(noise_covariance(noise, n));
  const Eigen::MatrixXd weights = covariance.solve(line).transpose();
  const Eigen::Matrix2d solution = (weights * line).inverse();
  const Eigen::Vector2d fit = solution * (weights * Eigen::Map<const Eigen::VectorXd>(phase_rad.data(), n));
  const double duration_s = static_cast<double>(n - 1) * noise.hop_s;
  return {fit(1), solution(1, 1), std::vector<double>(phase_rad.size(), fit(1) / duration_s)};
}

}  // namespace

PhaseGain smoothed_phase(const std::vector<double>& phase_rad, const PhaseNoise& noise) {
  constexpr std::size_t few_frames = 100;  // of more, the ends matter little, and overlap with them
  const double noise_rad2 = noise.frame_rad2 * std::max(1.0, hann_correlation_share * noise.window_s / noise.hop_s);
  const auto wander = likeliest_wander(phase_rad, noise_rad2, noise.hop_s, noise.window_s);
  if (!wander && phase_rad.size() <= few_frames) return steady_gain(phase_rad, noise);
  return wandering_gain(phase_rad, noise_rad2, wander.value_or(FrequencyWander{}), noise);
}

}  // namespace windway
