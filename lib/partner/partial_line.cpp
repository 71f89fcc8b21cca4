// SPDX-License-Identifier: GPL-3.0-or-later
#include "partner/partial_line.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <cstddef>
#include <numeric>
#include <vector>

#include "partner/beating.hpp"
#include "statistics/straight_line.hpp"
#include "units/units.hpp"

namespace windway {

namespace {

constexpr double window_s = 0.1;
constexpr double longest_s = 12.0;
constexpr std::size_t hops_a_window = 4;
constexpr std::size_t fewest_windows = 4;  // that do not overlap by more than half
constexpr double clear_power = 10.0;       // of the noise beside the line
constexpr double steadiest_rad = 0.003;    // a phase is never trusted further than that

/// Amplitudes (1 = full scale) of a line in windows that follow each other.
struct LineAmplitudes {
  double hop_s = 0;
  std::vector<std::complex<double>> values;
};

std::vector<double> hann_weights(std::size_t length) {
  std::vector<double> weights(length);
  for (std::size_t i = 0; i < length; ++i) {
    const double place = (static_cast<double>(i) + 0.5) / static_cast<double>(length);
    weights[i] = (1.0 - std::cos(full_turn_rad * place)) * 2.0 / static_cast<double>(length);
  }
  return weights;
}

/// The samples of the stretch, turned back by the turns of `hz`.
std::vector<std::complex<double>> turned_back(const PartialStretch& stretch, double hz) {
  const auto from = static_cast<std::size_t>(std::max(stretch.start_s, 0.0) * stretch.rate_hz);
  const double end_s = std::max(std::min(stretch.end_s, stretch.start_s + longest_s), 0.0);
  const std::size_t to = std::min(static_cast<std::size_t>(end_s * stretch.rate_hz), stretch.samples.size());
  const std::complex<double> step = std::polar(1.0, -full_turn_rad * hz / stretch.rate_hz);
  std::complex<double> turn = 1.0;
  std::vector<std::complex<double>> turned;
  for (std::size_t i = from; i < to; ++i) {
    turned.push_back(static_cast<double>(stretch.samples[i]) * turn);
    turn *= step;
  }
  return turned;
}

LineAmplitudes amplitudes_of(const PartialStretch& stretch, double hz) {
  const std::size_t hop = static_cast<std::size_t>(window_s * stretch.rate_hz) / hops_a_window;
  const std::vector<double> weights = hann_weights(hop * hops_a_window);
  const std::vector<std::complex<double>> turned = turned_back(stretch, hz);
  LineAmplitudes amplitudes{static_cast<double>(hop) / stretch.rate_hz, {}};
  for (std::size_t at = 0; at + weights.size() <= turned.size(); at += hop) {
    const auto first = turned.begin() + static_cast<long>(at);
    amplitudes.values.push_back(std::inner_product(weights.begin(), weights.end(), first, std::complex<double>(0)));
  }
  return amplitudes;
}

double mean_power(const LineAmplitudes& amplitudes) {
  double sum = 0;
  for (const auto& amplitude : amplitudes.values) sum += std::norm(amplitude);
  return sum / static_cast<double>(amplitudes.values.size());
}

/// Mean power of the noise in a window, from the quieter side of the line.
double noise_beside(const PartialStretch& stretch, double hz, double apart_hz) {
  const double aside_hz = std::min(0.5 * apart_hz, 60.0);
  return std::min(mean_power(amplitudes_of(stretch, hz - aside_hz)), mean_power(amplitudes_of(stretch, hz + aside_hz)));
}

/// One window's phase, unwrapped.
struct PhasePoint {
  double time_s = 0;
  double phase_rad = 0;
  double variance_rad2 = 0;
};

/// The windows from the first to the last that stands clear of the noise: all of them to follow the turns, every second
/// one to measure by.
std::vector<PhasePoint> phases_of(const LineAmplitudes& line, double noise) {
  const std::vector<std::complex<double>>& amplitudes = line.values;
  std::size_t end = amplitudes.size();
  while (end > 0 && std::norm(amplitudes[end - 1]) < clear_power * noise) --end;
  std::vector<PhasePoint> points;
  std::complex<double> last = 1.0;
  double phase = 0;
  for (std::size_t i = 0; i < end; ++i) {
    const double power = std::norm(amplitudes[i]);
    if (power < 0.5 * clear_power * noise || power <= 0) continue;
    phase += std::arg(amplitudes[i] * std::conj(last));
    last = amplitudes[i];
    if (i % (hops_a_window / 2) == 0)
      points.push_back(
          {static_cast<double>(i) * line.hop_s, phase, 0.5 * noise / power + steadiest_rad * steadiest_rad});
  }
  return points;
}

struct PhaseLine {
  double slope_rad_s = 0;
  double sd_rad_s = 0;
  double waver_rad_s = 0;
};

/// How much larger the variance of the slope is than if the residuals did not hang together: (1 + r) / (1 - r) of a
/// process that forgets (R. V. Hogg and others: first-order autoregression). Windows that overlap by half have 1/6.
double clumping(const std::vector<double>& scaled) {
  constexpr double of_overlap = 1.0 / 6.0;
  constexpr double most = 0.9;
  double lagged = 0, squares = 1e-300;
  for (std::size_t i = 0; i < scaled.size(); ++i) {
    squares += scaled[i] * scaled[i];
    if (i > 0) lagged += scaled[i] * scaled[i - 1];
  }
  const double r = std::clamp(lagged / squares, of_overlap, most);
  return (1.0 + r) / (1.0 - r);
}

/// What a phase that swings to and fro by a good part of a turn (vibrato, two strings that nearly cancel) leaves unsure
/// of its mean rate: how far the rate swings, over the square root of how often; the less, down to 0, the better the
/// phase keeps to its line.
double waver_rad_s(const std::vector<PhasePoint>& points, const std::vector<double>& residuals_rad) {
  constexpr double steady_rad = 0.3;
  constexpr double unsteady_rad = 1.0;
  double squares = 0, rates = 0;
  int crossings = 1;
  for (std::size_t i = 0; i < points.size(); ++i) {
    squares += residuals_rad[i] * residuals_rad[i];
    if (i == 0) continue;
    const double rate = (residuals_rad[i] - residuals_rad[i - 1]) / (points[i].time_s - points[i - 1].time_s);
    rates += rate * rate;
    crossings += (residuals_rad[i] < 0) != (residuals_rad[i - 1] < 0) ? 1 : 0;
  }
  const auto count = static_cast<double>(points.size());
  const double share = (std::sqrt(squares / count) - steady_rad) / (unsteady_rad - steady_rad);
  return std::clamp(share, 0.0, 1.0) * std::sqrt(rates / (count - 1.0) / crossings);
}

PhaseLine line_of(const std::vector<PhasePoint>& points) {
  std::vector<LinePoint> weighted;
  for (const PhasePoint& p : points) weighted.push_back({p.time_s, p.phase_rad, 1.0 / p.variance_rad2});
  const StraightLine line = fit_line(weighted);
  std::vector<double> residuals, scaled;
  double squares = 0;
  for (const PhasePoint& p : points) {
    residuals.push_back(p.phase_rad - line.at(p.time_s));
    scaled.push_back(residuals.back() / std::sqrt(p.variance_rad2));
    squares += scaled.back() * scaled.back();
  }
  // Few windows show their own scatter badly: the noise next to the line is a prior worth some windows.
  constexpr double noise_windows = 4.0;
  const double chi = (squares + noise_windows) / (static_cast<double>(points.size()) - 2.0 + noise_windows);
  return {line.slope, std::sqrt(std::max(chi, 1.0) * clumping(scaled) / line.xx), waver_rad_s(points, residuals)};
}

}  // namespace

std::optional<PartialLine> measure_partial(const PartialStretch& stretch, double near_hz, double apart_hz) {
  const LineAmplitudes amplitudes = amplitudes_of(stretch, near_hz);
  if (amplitudes.values.size() < fewest_windows) return std::nullopt;
  const std::vector<PhasePoint> points = phases_of(amplitudes, noise_beside(stretch, near_hz, apart_hz));
  if (points.size() < fewest_windows) return std::nullopt;
  const PhaseLine line = line_of(points);
  PartialLine partial{near_hz + line.slope_rad_s / full_turn_rad, line.sd_rad_s / full_turn_rad,
                      line.waver_rad_s / full_turn_rad, std::nullopt};
  if (const auto beat = beating_lines(amplitudes.values, amplitudes.hop_s, window_s))
    partial.split = SplitLine{near_hz + beat->middle_hz, beat->apart_hz, beat->lines == 2};
  return partial;
}

}  // namespace windway
