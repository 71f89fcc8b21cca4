// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/melodies.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "support/plan.hpp"

namespace windway::synthesis {
namespace {

constexpr double least_note_s = 0.08;  // what is shorter is an ornament
constexpr std::array whistle_lowest_midi = {62, 67, 70, 72, 74, 77};
constexpr std::array recorder_lowest_midi = {65, 72};

bool has_ornaments(MelodyKind kind) { return kind == MelodyKind::ornaments || kind == MelodyKind::room; }

double note_length_s(MelodyKind kind, Random& random) {
  if (kind == MelodyKind::runs) return random.chance(0.8) ? 0.2 : random.uniform(0.4, 0.8);
  if (kind == MelodyKind::quick) return random.chance(0.6) ? random.uniform(0.08, 0.16) : random.uniform(0.2, 0.5);
  constexpr std::array lengths_s = {0.2, 0.2, 0.3, 0.4, 0.4, 0.6, 0.8, 1.2};
  return lengths_s[static_cast<std::size_t>(random.uniform(0.0, lengths_s.size()))];
}

/// By steps mostly, seldom by a leap, within the compass.
std::size_t next_place(std::size_t place, std::size_t places, Random& random) {
  const double leap = random.chance(0.75) ? 1.0 : std::floor(random.uniform(2.0, 5.0));
  const double up = random.chance(0.5) ? leap : -leap;
  double next = static_cast<double>(place) + up;
  if (next < 0 || next >= static_cast<double>(places)) next = static_cast<double>(place) - up;
  return static_cast<std::size_t>(std::clamp(next, 0.0, static_cast<double>(places - 1)));
}

Blowing blown(int midi, double doublings, double duration_s) {
  Blowing out;
  out.midi = midi;
  out.from_doublings = out.to_doublings = doublings;
  out.duration_s = duration_s;
  out.gap_s = 0.0;
  return out;
}

/// A note with its ornaments: grace note before it, cut and tap within, a roll with both.
std::vector<Blowing> ornamented(const Blowing& plain, int lower_midi, int upper_midi, bool ornaments, Random& random) {
  if (!ornaments || random.chance(0.4)) return {plain};
  const auto short_note = [&](int midi) { return blown(midi, plain.from_doublings, random.uniform(0.04, 0.06)); };
  const auto part = [&](double share) { return blown(plain.midi, plain.from_doublings, share * plain.duration_s); };
  if (plain.duration_s < 0.35) return {short_note(upper_midi), plain};
  if (plain.duration_s < 0.55) return {part(0.5), short_note(random.chance(0.5) ? upper_midi : lower_midi), part(0.5)};
  return {part(0.34), short_note(upper_midi), part(0.33), short_note(lower_midi), part(0.33)};
}

std::vector<Blowing> drawn_melody(const RenderedMelody& melody, const std::vector<int>& notes, Random& random) {
  std::vector<Blowing> out;
  std::size_t place = notes.size() / 3;
  double length_s = 0.0;
  while (length_s < melody.draw.duration_s - 1.0) {
    place = next_place(place, notes.size(), random);
    const int midi = notes[place];
    const Blowing plain =
        blown(midi, meant_doublings(melody, midi) + random.normal(0.0, 0.2), note_length_s(melody.draw.kind, random));
    const int lower = notes[place > 0 ? place - 1 : 1];
    const int upper = notes[place + 1 < notes.size() ? place + 1 : place - 1];
    for (const Blowing& b : ornamented(plain, lower, upper, has_ornaments(melody.draw.kind), random)) out.push_back(b);
    if (random.chance(0.1)) {
      out.back().gap_s = random.uniform(0.3, 0.6);  // a breath
    } else if (random.chance(melody.draw.kind == MelodyKind::runs ? 0.1 : 0.4)) {
      out.back().gap_s = random.uniform(0.02, 0.06);  // tongued
    }
    length_s = 0.0;
    for (const Blowing& b : out) length_s += b.duration_s + b.gap_s;
  }
  return out;
}

Performance drawn_performance(const MelodyDraw& draw, Random& random) {
  Performance performance;
  Playing& playing = performance.playing;
  playing.breath_wander_doublings = random.uniform(0.02, 0.06);
  playing.pitch_wander_cents = random.uniform(0.2, 0.5);
  playing.most_edge_share = 0.25;
  if (draw.kind == MelodyKind::vibrato) {
    playing.vibrato_cents = random.uniform(6.0, 16.0);
    playing.vibrato_hz = random.uniform(4.6, 5.8);
  }
  if (draw.kind == MelodyKind::room) {
    performance.chain.reverb_s = random.uniform(0.3, 0.7);
    performance.chain.reverb_db = random.uniform(-18.0, -10.0);
  }
  return performance;
}

}  // namespace

std::vector<MelodyKind> melody_kinds() {
  return {MelodyKind::plain, MelodyKind::ornaments, MelodyKind::vibrato, MelodyKind::runs,
          MelodyKind::quick, MelodyKind::room,      MelodyKind::recorder};
}

std::string kind_name(MelodyKind kind) {
  constexpr std::array names = {"plain", "ornaments", "vibrato", "runs", "quick", "room", "recorder"};
  return names[static_cast<std::size_t>(kind)];
}

double meant_doublings(const RenderedMelody& melody, int midi) {
  const bool upper = midi - melody.flute.notes.front().midi >= 12;
  return melody.draw.upper_doublings * (upper ? 1.0 : 0.2);
}

RenderedMelody play_melody(const MelodyDraw& draw, std::uint64_t seed) {
  Random random(seed * 64 + static_cast<std::uint64_t>(draw.kind));
  FluteDraw flute;
  flute.kind = draw.kind == MelodyKind::recorder ? Kind::recorder : Kind::whistle;
  flute.lowest_midi =
      flute.kind == Kind::recorder ? random.one_of(recorder_lowest_midi) : random.one_of(whistle_lowest_midi);
  flute.overall_cents = random.uniform(-25.0, 25.0);
  flute.breath_db = random.uniform(26.0, 34.0);
  return play_melody_on(draw_flute(flute, random), flute.lowest_midi, draw, random);
}

RenderedMelody play_melody_on(const FluteModel& flute, int lowest_midi, const MelodyDraw& draw, Random& random) {
  RenderedMelody melody;
  melody.draw = draw;
  melody.flute = flute;
  melody.blowings = drawn_melody(melody, major_scale(lowest_midi, 19), random);
  melody.sound = synthesise_take(melody.flute, melody.blowings, drawn_performance(draw, random), random);
  return melody;
}

std::vector<TrueMelodyNote> true_melody_notes(const RenderedMelody& melody) {
  std::map<int, std::vector<double>> cents;
  double step_s = 0.005;
  for (const TrueHold& hold : melody.sound.holds) {
    if (hold.end_s - hold.start_s < least_note_s - 1e-6) continue;
    step_s = hold.curve_step_s;
    for (std::size_t i = 0; i < hold.curve_cents.size(); ++i) {
      const double t_s = static_cast<double>(i) * step_s;
      if (t_s < hold.attack_s || t_s > hold.end_s - hold.start_s - hold.release_s) continue;
      cents[hold.midi].push_back(hold.curve_cents[i] - hold.vibrato_cents[i]);
    }
  }
  std::map<int, double> sounded_s;
  for (const TrueHold& hold : melody.sound.holds)
    if (hold.end_s - hold.start_s >= least_note_s - 1e-6) sounded_s[hold.midi] += hold.end_s - hold.start_s;
  std::vector<TrueMelodyNote> notes;
  for (auto& [midi, values] : cents) {
    std::ranges::sort(values);
    notes.push_back({midi, sounded_s[midi], values[values.size() / 2],
                     cents_at(note_of(melody.flute, midi), meant_doublings(melody, midi))});
  }
  return notes;
}

}  // namespace windway::synthesis
