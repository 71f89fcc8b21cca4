// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/fading_take.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "support/tones.hpp"
#include "units/units.hpp"

namespace windway::synthesis {
namespace {

constexpr double edge_s = 0.5;  // silence before and after

/// The sound between the samples: a sinc of 32 samples under a Hann window.
double sample_at(const std::vector<double>& samples, double position) {
  constexpr int reach = 16;
  const auto middle = static_cast<std::ptrdiff_t>(std::floor(position));
  double sum = 0.0;
  for (std::ptrdiff_t i = middle - reach + 1; i <= middle + reach; ++i) {
    if (i < 0 || i >= static_cast<std::ptrdiff_t>(samples.size())) continue;
    const double x = std::numbers::pi * (position - static_cast<double>(i));
    const double window = 0.5 + 0.5 * std::cos(x / reach);
    sum += samples[static_cast<std::size_t>(i)] * window * (x == 0.0 ? 1.0 : std::sin(x) / x);
  }
  return sum;
}

/// Runs the end of the sound ever slower, as its pitch sags, and turns it down to nothing.
void fade_out(RenderedBlow& blow, const Fade& fade, double rate_hz) {
  const std::vector<double> whole = blow.samples;
  const auto length = static_cast<std::size_t>(fade.duration_s * rate_hz);
  const std::size_t from = whole.size() - std::min(length, whole.size());
  double position = static_cast<double>(from);
  for (std::size_t i = from; i < whole.size(); ++i) {
    const double u = static_cast<double>(i - from) / static_cast<double>(length);
    const double down = 0.5 - 0.5 * std::cos(std::numbers::pi * u);
    blow.samples[i] = (1.0 - down) * sample_at(whole, position);
    blow.cents[i] -= fade.sag_cents * down;
    position += std::exp2(-fade.sag_cents * down / 1200.0);
  }
  blow.release_s = fade.duration_s;
}

}  // namespace

SyntheticTake fading_take(const FluteModel& flute, const std::vector<Blowing>& blowings, const Performance& performance,
                          const Fade& fade, Random& random) {
  const double rate_hz = performance.rate_hz;
  const auto samples_in = [&](double s) { return static_cast<std::size_t>(std::lround(s * rate_hz)); };
  SyntheticTake take;
  take.rate_hz = rate_hz;
  TrueSegmentation sounding;
  std::vector<double> dry(samples_in(edge_s), 0.0);
  for (const Blowing& blowing : blowings) {
    BlowPlace place;
    place.rate_hz = rate_hz;
    place.slurred_to = true;  // no release of its own
    RenderedBlow rendered = render_blow(flute, blowing, performance.playing, place, random);
    fade_out(rendered, fade, rate_hz);
    take.holds.push_back(true_hold(rendered, blowing, static_cast<double>(dry.size()) / rate_hz, rate_hz));
    sounding.push_back(stretch_of(take.holds.back()));
    dry.insert(dry.end(), rendered.samples.begin(), rendered.samples.end());
    dry.resize(dry.size() + samples_in(blowing.gap_s), 0.0);
  }
  dry.resize(dry.size() + samples_in(edge_s), 0.0);
  take.samples = to_float(through(performance.chain, std::move(dry), rate_hz, random));
  take.segmentation = with_echoes(sounding, performance.chain, take.samples, rate_hz);
  return take;
}

}  // namespace windway::synthesis
