// SPDX-License-Identifier: GPL-3.0-or-later
// How closely the pitch of moving tones is followed: the curve of windway's hold, a point each 10 ms, beside aubio's
// "yinfast" and "fcomb" (2048 samples, hop 480) on the same samples, as a table. Each method's frames are set against
// the true curve at the constant lag that suits it best; all are judged over the same part of each tone. White noise 30
// dB under the tone (over the whole band), 48 kHz, harmonics of amplitude 1, 0.3 and 0.1, trials of random phase.
#include <aubio/aubio.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <functional>
#include <memory>
#include <numbers>
#include <string>
#include <vector>

#include "holds/holds.hpp"
#include "recording/decimate.hpp"
#include "support/find_holds.hpp"
#include "support/random.hpp"
#include "units/units.hpp"

namespace windway {
namespace {

constexpr int rate_hz = 48000;
constexpr double silence_s = 0.4;
constexpr double tone_s = 3.0;
constexpr double judged_from_s = 0.3;  // of the tone, to as much before its end
constexpr double snr_db = 30.0;
constexpr int trials = 20;
constexpr double two_pi = 2.0 * std::numbers::pi;

struct Kind {
  std::string name;
  std::function<double(double)> cents_at;  ///< from the note, t seconds into the tone
  std::function<double(double)> level_db_at;
};

std::vector<Kind> kinds() {
  const auto even = [](double) { return 0.0; };
  const auto arch = [](double t_s) { return std::sin(std::numbers::pi * t_s / tone_s); };
  // A tone that goes more than about a semitone is no hold any more: 35 cents a second over these 3 s is the most.
  return {{"glide, 20 cents/s", [](double t_s) { return 20.0 * t_s; }, even},
          {"glide, 35 cents/s", [](double t_s) { return 35.0 * t_s; }, even},
          {"swell, 12 dB and 30 cents", [arch](double t_s) { return 30.0 * arch(t_s); },
           [arch](double t_s) { return 12.0 * (arch(t_s) - 1.0); }},
          {"vibrato, 5 Hz, 15 cents", [](double t_s) { return 15.0 * std::sin(two_pi * 5.0 * t_s); }, even},
          {"vibrato, 6.5 Hz, 30 cents", [](double t_s) { return 30.0 * std::sin(two_pi * 6.5 * t_s); }, even}};
}

struct Point {
  double time_s = 0;  ///< from the tone's start
  double cents = 0;   ///< from the note
};

std::vector<float> moving_tone(const Kind& kind, double note_hz, synthesis::Random& random) {
  constexpr double scale = 0.1;
  constexpr double power = 0.5 * (1.0 + 0.3 * 0.3 + 0.1 * 0.1);
  const double noise_sd = std::sqrt(power * power_from_db(-snr_db));
  std::vector<float> samples(static_cast<std::size_t>((tone_s + 2.0 * silence_s) * rate_hz));
  double turn = random.uniform(0.0, two_pi);
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const double t_s = static_cast<double>(i) / rate_hz - silence_s;
    double value = random.normal(0.0, noise_sd);
    if (t_s >= 0 && t_s < tone_s) {
      const double tone = std::sin(turn) + 0.3 * std::sin(2.0 * turn) + 0.1 * std::sin(3.0 * turn);
      value += amplitude_from_db(kind.level_db_at(t_s)) * tone;
      turn += two_pi * hz_at_cents(note_hz, kind.cents_at(t_s + 0.5 / rate_hz)) / rate_hz;
    }
    samples[i] = static_cast<float>(scale * value);
  }
  return samples;
}

std::vector<Point> by_windway(const std::vector<float>& samples, double note_hz) {
  const int factor = decimation_factor(rate_hz);
  Decimator decimator(factor);
  std::vector<float> working;
  decimator.process(samples, working);
  decimator.finish(working);
  std::vector<Point> points;
  for (const Hold& hold : find_holds(track_pitch(working, static_cast<double>(rate_hz) / factor, {}), {})) {
    for (const HoldPoint& p : hold.curve) points.push_back({p.time_s - silence_s, cents_between(note_hz, p.f0_hz)});
  }
  return points;
}

std::vector<Point> by_aubio(const std::vector<float>& samples, double note_hz, const char* method) {
  constexpr unsigned window_samples = 2048;
  constexpr unsigned hop_samples = 480;
  const std::unique_ptr<aubio_pitch_t, void (*)(aubio_pitch_t*)> pitch(
      new_aubio_pitch(method, window_samples, hop_samples, rate_hz), del_aubio_pitch);
  const std::unique_ptr<fvec_t, void (*)(fvec_t*)> hop(new_fvec(hop_samples), del_fvec);
  const std::unique_ptr<fvec_t, void (*)(fvec_t*)> answer(new_fvec(1), del_fvec);
  aubio_pitch_set_unit(pitch.get(), "Hz");
  std::vector<Point> points;
  for (std::size_t at = 0; at + hop_samples <= samples.size(); at += hop_samples) {
    std::copy_n(samples.begin() + static_cast<long>(at), hop_samples, hop->data);
    aubio_pitch_do(pitch.get(), hop.get(), answer.get());
    const double f0_hz = fvec_get_sample(answer.get(), 0);
    if (f0_hz > 0) points.push_back({static_cast<double>(at) / rate_hz - silence_s, cents_between(note_hz, f0_hz)});
  }
  return points;
}

struct Fit {
  double rms_cents = INFINITY;
  double lag_s = 0;
  std::size_t points = 0;
};

/// The least error that any constant lag gives.
Fit best_fit(const Kind& kind, const std::vector<Point>& points) {
  Fit best;
  for (double lag_s = -0.03; lag_s <= 0.06; lag_s += 0.0005) {
    double squares = 0;
    std::size_t count = 0;
    for (const Point& p : points) {
      const double t_s = p.time_s - lag_s;
      if (t_s < judged_from_s || t_s > tone_s - judged_from_s) continue;
      squares += std::pow(p.cents - kind.cents_at(t_s), 2);
      ++count;
    }
    const double rms_cents = count > 0 ? std::sqrt(squares / static_cast<double>(count)) : INFINITY;
    if (rms_cents < best.rms_cents) best = {rms_cents, lag_s, count};
  }
  return best;
}

void print_row(const Kind& kind, double note_hz) {
  synthesis::Random random(7);
  std::vector<Point> windway, yinfast, fcomb;
  for (int trial = 0; trial < trials; ++trial) {
    const std::vector<float> samples = moving_tone(kind, note_hz, random);
    const auto add = [](std::vector<Point>& all, const std::vector<Point>& more) {
      all.insert(all.end(), more.begin(), more.end());
    };
    add(windway, by_windway(samples, note_hz));
    add(yinfast, by_aubio(samples, note_hz, "yinfast"));
    add(fcomb, by_aubio(samples, note_hz, "fcomb"));
  }
  const Fit w = best_fit(kind, windway), y = best_fit(kind, yinfast), f = best_fit(kind, fcomb);
  std::printf("| %s | %.1f | %.3f | %.3f | %.3f | %.1f | %+.1f / %+.1f / %+.1f | %zu / %zu / %zu |\n",
              kind.name.c_str(), note_hz, w.rms_cents, y.rms_cents, f.rms_cents,
              std::min(y.rms_cents, f.rms_cents) / w.rms_cents, 1000.0 * w.lag_s, 1000.0 * y.lag_s, 1000.0 * f.lag_s,
              w.points, y.points, f.points);
}

}  // namespace
}  // namespace windway

int main() {
  std::printf(
      "| tone | note Hz | windway RMS cents | yinfast | fcomb | better of these / windway | lags ms | points "
      "|\n|---|---|---|---|---|---|---|---|\n");
  for (const auto& kind : windway::kinds()) {
    for (const double note_hz : {593.0, 1183.0}) windway::print_row(kind, note_hz);
  }
}
