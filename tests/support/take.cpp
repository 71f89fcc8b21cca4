// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/take.hpp"

#include <algorithm>
#include <cmath>

#include "support/noise.hpp"
#include "support/tones.hpp"

namespace windway::synthesis {
namespace {

constexpr double edge_s = 0.5;           // silence before and after
constexpr double around_break_s = 0.03;  // what is left out either side of a break
constexpr double talk_s = 1.6;
constexpr double talk_peak = 0.35;  // against a moderate blow of the lowest note

double length_s(const std::vector<Blowing>& blowings, const Performance& performance) {
  double sum = 2.0 * edge_s;
  for (const Blowing& b : blowings) sum += b.duration_s + b.gap_s;
  if (performance.talk_after_blows > 0) {
    const std::size_t talks = blowings.size() / static_cast<std::size_t>(performance.talk_after_blows);
    sum += static_cast<double>(talks) * (talk_s + edge_s);
  }
  return sum;
}

void append_silence(std::vector<double>& samples, double duration_s, double rate_hz) {
  samples.resize(samples.size() + static_cast<std::size_t>(std::lround(duration_s * rate_hz)), 0.0);
}

TrueStretch append_talk(std::vector<double>& samples, double rate_hz, Random& random) {
  TrueStretch talk;
  talk.what = Sounding::foreign;
  talk.start_s = static_cast<double>(samples.size()) / rate_hz;
  talk.end_s = talk.start_s + talk_s;
  for (const double x : babble(talk_s, rate_hz, random)) samples.push_back(talk_peak * x);
  append_silence(samples, edge_s, rate_hz);
  return talk;
}

BlowPlace place_of(const std::vector<Blowing>& blowings, std::size_t i, const Performance& performance) {
  BlowPlace place;
  place.rate_hz = performance.rate_hz;
  place.slurred_from = i > 0 && blowings[i - 1].gap_s <= 0.0;
  place.slurred_to = i + 1 < blowings.size() && blowings[i].gap_s <= 0.0;
  if (performance.playing.register_breaks && blowings[i].blow == Blow::hard && i % 9 == 2) place.slip_s = 0.16;
  return place;
}

}  // namespace

double Warming::cents_at(double time_s) const {
  return size_cents * std::expm1(-time_s / memory_s) / std::expm1(-length_s / memory_s);
}

TrueHold true_hold(const RenderedBlow& rendered, const Blowing& blowing, double start_s, double rate_hz) {
  TrueHold hold;
  hold.midi = blowing.midi;
  hold.blow = blowing.blow;
  hold.start_s = start_s;
  hold.end_s = start_s + static_cast<double>(rendered.samples.size()) / rate_hz;
  hold.attack_s = rendered.attack_s;
  hold.release_s = rendered.release_s;
  if (rendered.broken) hold.broken = Span{start_s + rendered.broken->start_s, start_s + rendered.broken->end_s};
  const auto step = static_cast<std::size_t>(hold.curve_step_s * rate_hz);
  hold.curve_step_s = static_cast<double>(step) / rate_hz;  // a whole number of samples
  for (std::size_t i = 0; i < rendered.cents.size(); i += step) {
    hold.curve_cents.push_back(rendered.cents[i]);
    hold.vibrato_cents.push_back(rendered.vibrato_cents[i]);
  }
  return hold;
}

TrueStretch stretch_of(const TrueHold& hold) {
  TrueStretch stretch;
  stretch.start_s = hold.start_s;
  stretch.end_s = hold.end_s;
  stretch.midi = hold.midi;
  stretch.attack_s = hold.attack_s;
  stretch.release_s = hold.release_s;
  stretch.broken = hold.broken;
  return stretch;
}

SyntheticTake synthesise_take(const FluteModel& flute, const std::vector<Blowing>& blowings,
                              const Performance& performance, Random& random) {
  const double rate_hz = performance.rate_hz;
  SyntheticTake take;
  take.rate_hz = rate_hz;
  take.warming.size_cents = performance.warming_cents;
  take.warming.length_s = length_s(blowings, performance);
  take.warming.memory_s = performance.warming_memory_s.value_or(0.4 * take.warming.length_s);
  TrueSegmentation sounding;
  std::vector<double> dry;
  append_silence(dry, edge_s, rate_hz);
  for (std::size_t i = 0; i < blowings.size(); ++i) {
    const double start_s = static_cast<double>(dry.size()) / rate_hz;
    BlowPlace place = place_of(blowings, i, performance);
    place.drift_cents = take.warming.cents_at(start_s + 0.5 * blowings[i].duration_s);
    const RenderedBlow rendered = render_blow(flute, blowings[i], performance.playing, place, random);
    take.holds.push_back(true_hold(rendered, blowings[i], start_s, rate_hz));
    sounding.push_back(stretch_of(take.holds.back()));
    dry.insert(dry.end(), rendered.samples.begin(), rendered.samples.end());
    append_silence(dry, blowings[i].gap_s, rate_hz);
    const int every = performance.talk_after_blows;
    if (every > 0 && (i + 1) % static_cast<std::size_t>(every) == 0) {
      sounding.push_back(append_talk(dry, rate_hz, random));
    }
  }
  append_silence(dry, edge_s, rate_hz);
  take.samples = to_float(through(performance.chain, std::move(dry), rate_hz, random));
  take.segmentation = with_echoes(sounding, performance.chain, take.samples, rate_hz);
  return take;
}

std::optional<double> mean_cents(const TrueHold& hold, double start_s, double end_s) {
  const double half_step_s = 0.5 * hold.curve_step_s;
  double sum = 0.0, weight_s = 0.0;
  for (std::size_t i = 0; i < hold.curve_cents.size(); ++i) {
    const double t_s = hold.start_s + static_cast<double>(i) * hold.curve_step_s;
    const bool near_break =
        hold.broken && t_s > hold.broken->start_s - around_break_s && t_s < hold.broken->end_s + around_break_s;
    // A point counts for as much of the step about it as lies within, or a swell's mean would hang on the grid.
    const double within_s = std::min(end_s, t_s + half_step_s) - std::max(start_s, t_s - half_step_s);
    if (within_s <= 0.0 || near_break) continue;
    sum += within_s * hold.curve_cents[i];
    weight_s += within_s;
  }
  if (weight_s <= 0.0) return std::nullopt;
  return sum / weight_s;
}

std::optional<double> mean_cents(const TrueHold& hold) {
  return mean_cents(hold, hold.start_s + hold.attack_s, hold.end_s - hold.release_s);
}

}  // namespace windway::synthesis
