// SPDX-License-Identifier: GPL-3.0-or-later
#include "pitch/tone.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>
#include <span>
#include <utility>

#include "pitch/lines.hpp"
#include "pitch/noise_power.hpp"
#include "units/units.hpp"

namespace windway {

namespace {
constexpr double noise_from_hz = 700.0;  // breath noise of a duct flute lies above this
constexpr double noise_to_hz = 7000.0;
constexpr double all_hz = 1e9;
constexpr double clear_from_share = 0.6;           // of the fundamental: what lies below is not asked for clarity
constexpr double same_pitch = 0.03;                // change from frame to frame: half a semitone
constexpr std::size_t decided_after_frames = 100;  // 1 s of a tone is enough
constexpr std::size_t decided_at_once = 32;
constexpr std::size_t evidence_frames = 2;  // the windows of the frames between add hardly anything
/// A window and more, at no common interval: over such a one a line at another place might keep step too.
constexpr std::array<std::size_t, most_frames - 1> lags_frames{5, 11, 18};

/// `total_power`: of the band.
Tone tone_at(const SpectrumFrame& spectrum, const Band& band, double f0_hz, double noise_power, double total_power) {
  Tone tone;
  tone.f0_hz = static_cast<float>(f0_hz);
  double harmonic_power = 0;
  for (int h = 1; h <= harmonics_tracked; ++h) {
    const double place = h * f0_hz / band.bin_hz;
    const std::size_t bin = nearest_bin(place);
    if (bin >= band.to) break;
    const double modulus = std::sqrt(2.0 * spectrum.power[bin]);
    const double amplitude = modulus / hann_lobe(place - static_cast<double>(bin));
    tone.amplitude[static_cast<std::size_t>(h - 1)] = static_cast<float>(amplitude);
    tone.phase_rad[static_cast<std::size_t>(h - 1)] = std::arg(spectrum.amplitude[bin]);
    harmonic_power += std::max(0.0, amplitude * amplitude / 2.0 - noise_power);
  }
  // Rumble and hum below the tone do not make it less clear.
  const std::size_t below = nearest_bin(clear_from_share * f0_hz / band.bin_hz);
  const double power_below = sum_of(spectrum.power, band.from, std::max(below, band.from)) / hann_noise_bins;
  const double power_from_there = total_power - power_below;
  tone.clarity = static_cast<float>(std::min(1.0, harmonic_power / std::max(power_from_there, 1e-20)));
  return tone;
}

/// hz / reference_hz as a ratio of whole numbers up to 5, where the two may be harmonics of one fundamental; else
/// absent.
std::optional<double> harmonic_ratio(double hz, double reference_hz) {
  constexpr double within = 0.015;  // a quarter of a semitone
  for (int q = 1; q <= highest_harmonic; ++q) {
    const double multiple = q * hz / reference_hz;
    const double p = std::floor(multiple + 0.5);
    if (p >= 1.0 && p <= highest_harmonic && std::abs(multiple - p) < within * p) return p / q;
  }
  return std::nullopt;
}

double top_hz(const SpectrumFrame& spectrum, double bin_hz) {
  return (2.0 * band_share * static_cast<double>(spectrum.power.size() - 1) - 1.0) * bin_hz;
}

double phase_at(const SpectrumFrame& spectrum, double hz, double bin_hz) {
  return std::arg(spectrum.amplitude[nearest_bin(hz / bin_hz)]);
}

constexpr double impossible = -std::numeric_limits<double>::infinity();

}  // namespace

ToneFinder::Heard ToneFinder::heard(SpectrumFrame spectrum) const {
  Heard next;
  next.spectrum = std::move(spectrum);
  const auto& power = next.spectrum.power;
  const Band band = band_of(next.spectrum, bin_hz_, voice_min_hz, all_hz);
  next.noise_power = noise_power_in(power, band_of(next.spectrum, bin_hz_, noise_from_hz, noise_to_hz));
  next.total_power = std::max(sum_of(power, band.from, band.to) / hann_noise_bins, static_cast<double>(silence_power));
  if (const auto line = strongest_line(power, band, next.noise_power)) next.line_hz = line->hz;
  return next;
}

/// Does the tone of the frame before go on? Then the phase of its first strongest line is followed by the line that is
/// strongest now.
void ToneFinder::follow(Heard& next) const {
  if (heard_.empty() || heard_.back().line_hz <= 0 || next.line_hz <= 0) return;
  const Heard& before = heard_.back();
  const double root_hz = before.line_hz / before.order;
  const auto order = harmonic_ratio(next.line_hz, root_hz);
  if (!order) return;
  const double before_hz = std::min(*order * root_hz, top_hz(before.spectrum, bin_hz_));
  const double turned = phase_at(next.spectrum, next.line_hz, bin_hz_) - phase_at(before.spectrum, before_hz, bin_hz_);
  const double expected = 2.0 * std::numbers::pi * rules_.hop_s * 0.5 * (before_hz + next.line_hz);
  const double advance = expected + std::remainder(turned - expected, 2.0 * std::numbers::pi);
  next.order = *order;
  next.phase_rad = before.phase_rad + advance / *order;
  next.age = before.age + 1;
}

/// True if the line that was the strongest then is no faint one now. If not, the register has slipped between.
bool ToneFinder::sounds_on(const Heard& then, const Heard& next) const {
  if (then.order == next.order) return true;
  const auto& power = next.spectrum.power;
  const auto power_at = [&](double hz) { return power[std::min(nearest_bin(hz / bin_hz_), power.size() - 1)]; };
  const auto share = static_cast<float>(rules_.octave.faint);
  return power_at(next.line_hz * then.order / next.order) > share * power_at(next.line_hz);
}

OfEachPart<double> ToneFinder::evidence(const Heard& next) const {
  std::array<ToneFrame, most_frames> frames;
  std::size_t count = 0;
  frames[count++] = {&next.spectrum, next.line_hz, 0.0};
  for (const std::size_t lag : lags_frames) {
    if (lag > next.age || lag > heard_.size()) break;
    const Heard& then = heard_[heard_.size() - lag];
    if (!sounds_on(then, next)) break;
    frames[count++] = {&then.spectrum, next.order * then.line_hz / then.order,
                       next.order * (next.phase_rad - then.phase_rad)};
  }
  return log_likelihoods(std::span(frames).first(count), rules_.octave, bin_hz_, top_hz(next.spectrum, bin_hz_),
                         next.noise_power);
}

/// Power against that of a window before; infinite where nothing was before.
double ToneFinder::power_ratio(const Heard& next) const {
  constexpr std::size_t lag = lags_frames.front();
  if (heard_.size() < lag) return std::numeric_limits<double>::infinity();
  return next.total_power / heard_[heard_.size() - lag].total_power;
}

void ToneFinder::extend_paths(Heard& next) const {
  const OctaveModel& model = rules_.octave;
  const double power_ratio = this->power_ratio(next);
  const bool asked = next.line_hz > 0 && power_ratio > model.echo_fall && next.age % evidence_frames == 0;
  const auto says = asked ? evidence(next) : OfEachPart<double>{};
  const OfEachPart<double> paths = heard_.empty() ? OfEachPart<double>{} : heard_.back().log_likelihood;
  const auto best = static_cast<std::size_t>(std::max_element(paths.begin(), paths.end()) - paths.begin());
  const double before_hz = next.age > 0 ? heard_.back().line_hz : 0.0;
  const bool may_slip = next.age == 0 || next.order != heard_.back().order || power_ratio > model.blow_rise;
  const double change_nats = next.age == 0 ? 0.0 : may_slip ? model.slip_nats : model.same_line_nats;
  for (std::size_t d = 0; d < paths.size(); ++d) {
    const auto divisor = static_cast<double>(d + 1);
    double most = paths[best] - change_nats;
    next.from[d] = best;
    for (std::size_t from = 0; from < paths.size(); ++from) {
      const double ratio = before_hz * divisor / (next.line_hz * static_cast<double>(from + 1));
      if (std::abs(ratio - 1.0) > same_pitch || paths[from] <= most) continue;
      most = paths[from];
      next.from[d] = from;
    }
    const bool is_voice_or_flute = d == 0 || next.line_hz >= voice_min_hz * divisor;
    next.log_likelihood[d] = is_voice_or_flute ? most + says[d] : impossible;
  }
}

PitchFrame ToneFinder::frame_of(const Heard& decided, double f0_hz) const {
  PitchFrame frame;
  frame.power_db = static_cast<float>(db_from_power(decided.total_power));
  frame.noise_db = static_cast<float>(db_from_power(decided.noise_power / (hann_noise_bins * bin_hz_)));
  if (f0_hz < rules_.min_hz || f0_hz > rules_.max_hz) return frame;
  const Band band = band_of(decided.spectrum, bin_hz_, voice_min_hz, all_hz);
  const double refined = refined_hz(decided.spectrum.power, band, f0_hz, decided.noise_power);
  frame.tone = tone_at(decided.spectrum, band, refined, decided.noise_power, decided.total_power);
  return frame;
}

/// Decides the first `count` undecided frames by the best path to the last frame.
void ToneFinder::decide(std::size_t count, std::vector<PitchFrame>& frames) {
  if (heard_.size() == decided_) return;
  const auto& paths = heard_.back().log_likelihood;
  auto d = static_cast<std::size_t>(std::max_element(paths.begin(), paths.end()) - paths.begin());
  std::vector<std::size_t> path(heard_.size() - decided_);
  for (std::size_t i = path.size(); i-- > 0;) {
    path[i] = d;
    d = heard_[decided_ + i].from[d];
  }
  for (std::size_t i = 0; i < count; ++i) {
    const Heard& here = heard_[decided_ + i];
    frames.push_back(frame_of(here, here.line_hz / static_cast<double>(path[i] + 1)));
  }
  decided_ += count;
}

SpectrumFrame ToneFinder::push(SpectrumFrame spectrum, std::vector<PitchFrame>& frames) {
  Heard next = heard(std::move(spectrum));
  follow(next);
  extend_paths(next);
  heard_.push_back(std::move(next));
  if (heard_.size() - decided_ >= decided_after_frames + decided_at_once) decide(decided_at_once, frames);
  while (decided_ > lags_frames.back()) {
    used_.push_back(std::move(heard_.front().spectrum));
    heard_.pop_front();
    --decided_;
  }
  if (used_.empty()) return {};
  SpectrumFrame room = std::move(used_.back());
  used_.pop_back();
  return room;
}

void ToneFinder::finish(std::vector<PitchFrame>& frames) { decide(heard_.size() - decided_, frames); }

}  // namespace windway
