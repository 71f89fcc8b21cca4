// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/blow.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <numbers>
#include <utility>

#include "support/noise.hpp"
#include "units/units.hpp"

namespace windway::synthesis {
namespace {

constexpr double full_turn_rad = 2.0 * std::numbers::pi;
constexpr double neper_per_db = std::numbers::ln10 / 20.0;
constexpr double still_share = 0.1;  // of a swell, at either end: its ends are strengths that are really held
constexpr double breath_memory_s = 0.35;

/// 0 at u = 0, 1 from u = 1 on, no corners.
double smooth_step(double u) {
  if (u >= 1.0) return 1.0;
  return 0.5 - 0.5 * std::cos(std::numbers::pi * std::max(u, 0.0));
}

/// Either way by `size`; 0, and nothing computed, for none.
double swing(double size, double hz, double time_s, double turn_rad) {
  return size == 0.0 ? 0.0 : size * std::sin(full_turn_rad * hz * time_s + turn_rad);
}

std::vector<double> strength_curve(const FluteModel& flute, const Blowing& blowing, const Playing& playing,
                                   double rate_hz, Random& random) {
  const auto count = static_cast<std::size_t>(std::lround(blowing.duration_s * rate_hz));
  auto strength = slow_wander(count, rate_hz, breath_memory_s, playing.breath_wander_doublings, random);
  const double sag = playing.sag_doublings * random.uniform(0.0, 1.0);
  for (std::size_t i = 0; i < count; ++i) {
    const double u = static_cast<double>(i) / static_cast<double>(count);
    strength[i] += meant_doublings(flute, blowing, static_cast<double>(i) / rate_hz) - sag * (u - 0.5);
  }
  return strength;
}

void set_edges(RenderedBlow& out, const BlowPlace& place, double most_s, Random& random) {
  out.attack_s = std::min(place.slurred_from ? 0.010 : random.uniform(0.025, 0.075), most_s);
  out.release_s = std::min(place.slurred_to ? 0.008 : random.uniform(0.045, 0.12), most_s);
}

std::vector<double> cents_curve(const NoteModel& note, const std::vector<double>& strength, const Playing& playing,
                                const BlowPlace& place, RenderedBlow& edges, Random& random) {
  const std::size_t count = strength.size();
  auto cents = slow_wander(count, place.rate_hz, breath_memory_s, playing.pitch_wander_cents, random);
  const double turn_rad = random.uniform(0.0, full_turn_rad);
  const double sag = playing.sag_cents_per_s > 0.0 ? playing.sag_cents_per_s * random.uniform(0.0, 2.0) : 0.0;
  const double scoop = place.slurred_from ? 0.0 : playing.scoop_cents;
  const double fall = place.slurred_to ? 0.0 : playing.fall_cents;
  for (std::size_t i = 0; i < count; ++i) {
    const double t_s = static_cast<double>(i) / place.rate_hz;
    const double left_s = static_cast<double>(count - i) / place.rate_hz;
    cents[i] += cents_at(note, strength[i]) + place.drift_cents - 0.5 * sag * (t_s - left_s);
    edges.vibrato_cents.push_back(swing(playing.vibrato_cents, playing.vibrato_hz, t_s, turn_rad));
    cents[i] += edges.vibrato_cents.back();
    cents[i] += scoop * (1.0 - smooth_step(t_s / edges.attack_s));
    cents[i] += fall * (1.0 - smooth_step(left_s / edges.release_s));
  }
  return cents;
}

/// Loudness of the tone over the blow, without what the strength does: attack, release, the seam of a break.
double gain_at(std::size_t i, std::size_t count, const BlowPlace& place, const RenderedBlow& edges) {
  const double t_s = static_cast<double>(i) / place.rate_hz;
  const double left_s = static_cast<double>(count - i) / place.rate_hz;
  const double floor = 0.5;  // a slur never falls silent
  double rise = smooth_step(t_s / edges.attack_s);
  double fade = smooth_step(left_s / edges.release_s);
  if (place.slurred_from) rise = floor + (1.0 - floor) * rise;
  if (place.slurred_to) fade = floor + (1.0 - floor) * fade;
  if (!edges.broken) return rise * fade;
  const double seam_s = std::min(std::abs(t_s - edges.broken->start_s), std::abs(t_s - edges.broken->end_s));
  return rise * fade * (0.25 + 0.75 * smooth_step(seam_s / 0.006));
}

/// The phase of the fundamental at every sample, in cycles: the running sum of the frequency.
std::vector<double> phase_curve(double hz, const RenderedBlow& blow, double break_cents, double rate_hz) {
  std::vector<double> cycles(blow.cents.size());
  double now = 0.0;
  for (std::size_t i = 0; i < cycles.size(); ++i) {
    const double t_s = static_cast<double>(i) / rate_hz;
    const bool broken = blow.broken && t_s > blow.broken->start_s && t_s < blow.broken->end_s;
    now += hz_at_cents(hz, blow.cents[i] + (broken ? break_cents : 0.0)) / rate_hz;
    cycles[i] = now;
  }
  return cycles;
}

struct Sounding {
  const FluteModel& flute;
  const NoteModel& note;
  const std::vector<double>& strength;
  const std::vector<double>& cycles;
  double rate_hz;
  Span slip;  ///< into the octave; empty for none
};

/// Amplitudes of the harmonics at a moderate breath; none is recorded near half the rate and above it.
std::array<std::complex<double>, model_harmonics> moderate_harmonics(const NoteModel& note, double hz, double rate_hz) {
  std::array<std::complex<double>, model_harmonics> moderate{};
  for (int k = 0; k < model_harmonics && (k + 1) * hz <= 0.45 * rate_hz; ++k) {
    const double level_db = note.harmonic_db[static_cast<std::size_t>(k)];
    if (level_db > absent_harmonic_db)
      moderate[static_cast<std::size_t>(k)] = std::polar(amplitude_from_db(level_db), 0.9 * k);
  }
  return moderate;
}

/// All harmonics together. Each turns once more a cycle than the one below it and gains the same tilt on it, so that
/// they are a polynomial of one rotating number (W. G. Horner).
std::vector<double> tone_sound(const Sounding& s) {
  const double hz = target_hz(s.flute, s.note.midi);
  const auto moderate = moderate_harmonics(s.note, hz, s.rate_hz);
  const auto slipped = moderate_harmonics(s.note, 2.0 * hz, s.rate_hz);
  const double tilt = neper_per_db * s.note.tilt_db;
  std::vector<double> tone(s.cycles.size());
  for (std::size_t i = 0; i < tone.size(); ++i) {
    const double t_s = static_cast<double>(i) / s.rate_hz;
    const auto& harmonics = t_s > s.slip.start_s && t_s < s.slip.end_s ? slipped : moderate;
    const auto turned = std::polar(1.0, full_turn_rad * (s.cycles[i] - std::floor(s.cycles[i])));
    const auto above = turned * std::exp(tilt * s.strength[i]);
    std::complex<double> sum;
    for (std::size_t k = harmonics.size(); k-- > 0;) sum = sum * above + harmonics[k];
    tone[i] = std::imag(sum * turned);
  }
  return tone;
}

/// Breath at the edge: a rush of noise, loudest before the tone stands, and, overblown, the bore's lower modes
/// ringing with it at half and one and a half times the pitch.
std::vector<double> breath_sound(const Sounding& s, const Playing& playing, bool with_chiff, Random& random) {
  const std::size_t count = s.cycles.size();
  auto noise = breath_noise(count, s.rate_hz, random);
  const double base = amplitude_from_db(-s.flute.breath_db);
  const double chiff = with_chiff ? amplitude_from_db(playing.chiff_db) - 1.0 : 0.0;
  const double rise = neper_per_db * (s.flute.breath_power - 1.0) * s.flute.db_per_doubling;
  double start = chiff;
  const double keep = std::exp(-1.0 / s.rate_hz / 0.018);
  for (double& x : noise) x *= 1.0 + std::exchange(start, start * keep);
  if (s.note.register_number > 1) {
    for (const double mode : {0.5, 1.5}) {
      // Noise in a narrow band about the mode: either quadrature wanders by itself.
      const double sd = s.flute.ring / std::numbers::sqrt2;
      const auto in_phase = slow_wander(count, s.rate_hz, 0.02, sd, random);
      const auto across = slow_wander(count, s.rate_hz, 0.02, sd, random);
      for (std::size_t i = 0; i < count; ++i) {
        const double turn_rad = full_turn_rad * mode * s.cycles[i];
        noise[i] += in_phase[i] * std::sin(turn_rad) + across[i] * std::cos(turn_rad);
      }
    }
  }
  for (std::size_t i = 0; i < count; ++i) noise[i] *= base * std::exp(rise * s.strength[i]);
  return noise;
}

}  // namespace

double meant_doublings(const FluteModel& flute, const Blowing& blowing, double time_s) {
  const double share = time_s / blowing.duration_s;
  const double u = blowing.and_back ? 1.0 - std::abs(2.0 * share - 1.0) : share;
  const double way = std::clamp((u - still_share) / (1.0 - 2.0 * still_share), 0.0, 1.0);
  const BreathMotion& motion = blowing.motion;
  const double motion_db = swing(motion.tremolo_db, motion.tremolo_hz, time_s, motion.tremolo_turn_rad) -
                           motion.fall_db_per_s * (time_s - 0.5 * blowing.duration_s);
  return blowing.from_doublings + (blowing.to_doublings - blowing.from_doublings) * way +
         motion_db / flute.db_per_doubling;
}

double meant_cents(const FluteModel& flute, const Blowing& blowing, Span part) {
  constexpr double step_s = 0.001;
  const NoteModel& note = note_of(flute, blowing.midi);
  const int steps = std::max(1, static_cast<int>(std::lround((part.end_s - part.start_s) / step_s)));
  double sum = 0.0;
  for (int i = 0; i < steps; ++i) {
    const double time_s = part.start_s + (part.end_s - part.start_s) * (i + 0.5) / steps;
    sum += cents_at(note, meant_doublings(flute, blowing, time_s));
  }
  return sum / steps;
}

RenderedBlow render_blow(const FluteModel& flute, const Blowing& blowing, const Playing& playing,
                         const BlowPlace& place, Random& random) {
  const NoteModel& note = note_of(flute, blowing.midi);
  RenderedBlow out;
  set_edges(out, place, playing.most_edge_share * blowing.duration_s, random);
  const double middle_s = 0.5 * blowing.duration_s;
  if (place.slip_s > 0.0) out.broken = Span{middle_s, middle_s + place.slip_s};
  if (playing.tap_cents != 0.0 && !out.broken) out.broken = Span{middle_s, middle_s + 0.035};
  const auto strength = strength_curve(flute, blowing, playing, place.rate_hz, random);
  out.cents = cents_curve(note, strength, playing, place, out, random);
  const double break_cents = place.slip_s > 0.0 ? 1200.0 : playing.tap_cents;
  const auto cycles = phase_curve(target_hz(flute, note.midi), out, break_cents, place.rate_hz);
  const Sounding sounding{flute, note, strength, cycles, place.rate_hz, place.slip_s > 0.0 ? *out.broken : Span{}};
  out.samples = breath_sound(sounding, playing, !place.slurred_from, random);
  const auto tone = tone_sound(sounding);
  for (std::size_t i = 0; i < out.samples.size(); ++i) {
    const double level_db = note.loudness_db + flute.db_per_doubling * strength[i];
    const double gain = gain_at(i, out.samples.size(), place, out) * std::exp(neper_per_db * level_db);
    out.samples[i] = gain * (out.samples[i] + tone[i]);
  }
  return out;
}

}  // namespace windway::synthesis
