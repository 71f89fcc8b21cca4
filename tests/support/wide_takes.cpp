// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/wide_takes.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "support/compressed_file.hpp"
#include "support/fading_take.hpp"
#include "support/sound_file.hpp"
#include "units/units.hpp"

namespace windway::synthesis {
namespace {

constexpr int compass_semitones = 14;
const std::vector<Blow> three = {Blow::soft, Blow::moderate, Blow::hard};

FluteModel drawn_flute(WideKind kind, Random& random) {
  constexpr std::array lowest_midi = {65, 67, 70, 72, 74, 77, 79};
  FluteDraw draw;
  draw.lowest_midi = random.one_of(lowest_midi);
  if (kind == WideKind::low_whistle) draw.lowest_midi = 55;
  if (kind == WideKind::garklein) {
    draw.kind = Kind::recorder;
    draw.lowest_midi = 84;
  }
  draw.overall_cents = random.uniform(-20.0, 20.0);
  draw.breath_db = random.uniform(24.0, 34.0);
  return draw_flute(draw, random);
}

Performance drawn_performance(WideKind kind, Random& random) {
  Performance performance;
  performance.playing.breath_wander_doublings = random.uniform(0.01, 0.05);
  performance.playing.pitch_wander_cents = random.uniform(0.2, 0.5);
  performance.playing.sag_doublings = random.uniform(0.0, 0.08);
  if (kind == WideKind::steep_room) {
    performance.chain.reverb_s = random.uniform(0.4, 0.8);
    performance.chain.reverb_db = random.uniform(-12.0, -6.0);
  }
  if (kind == WideKind::mp3) performance.rate_hz = random.one_of(std::array{16000.0, 22050.0});
  if (kind == WideKind::opus) performance.rate_hz = random.one_of(std::array{8000.0, 16000.0, 24000.0});
  if (kind == WideKind::rate_16_khz) performance.rate_hz = 16000.0;
  if (kind == WideKind::rate_8_khz) performance.rate_hz = 8000.0;
  return performance;
}

/// Slopes of 4 to 10 cents a dB over 4.5 dB from soft to hard.
void make_steep(PlayedTake& take, Random& random) {
  const double whole_doublings = 4.5 / take.flute.db_per_doubling;
  take.strengths = {-0.55 * whole_doublings, 0.45 * whole_doublings};
  for (NoteModel& note : take.flute.notes) {
    note.cents_per_doubling = random.uniform(4.0, 10.0) * take.flute.db_per_doubling;
    note.bend = random.uniform(0.0, 0.1) + 1e-6;
  }
}

Blowing piece(int midi, Blow blow, double from_doublings, double to_doublings, double duration_s, double gap_s) {
  return {midi, blow, from_doublings, to_doublings, duration_s, gap_s};
}

/// Two pieces without a gap: the breath slackens, the upper octave lets go and the lower one sounds.
void append_drop(std::vector<Blowing>& blowings, int midi, double soft_doublings, Random& random) {
  const double at_doublings = soft_doublings - random.uniform(0.0, 0.3);
  blowings.push_back(piece(midi, Blow::soft, soft_doublings + 0.3, at_doublings, random.uniform(0.5, 0.9), 0.0));
  blowings.push_back(piece(midi - 12, Blow::soft, at_doublings, at_doublings, random.uniform(0.5, 0.9), 0.25));
}

/// Three: the lower octave up to where it jumps, the upper one down to where it falls back, the lower one again.
void append_hysteresis(std::vector<Blowing>& blowings, int midi, const Strengths& strengths, Random& random) {
  const double up_doublings = random.uniform(0.5, 1.0), down_doublings = random.uniform(-0.6, -0.1);
  const double length_s = random.uniform(0.8, 1.2);
  blowings.push_back(piece(midi, Blow::swell, strengths.soft, up_doublings, length_s, 0.0));
  blowings.push_back(piece(midi + 12, Blow::swell, up_doublings, down_doublings, length_s, 0.0));
  blowings.push_back(piece(midi, Blow::swell, down_doublings, strengths.soft, length_s, 0.3));
}

std::vector<Blowing> planned_blows(WideKind kind, const PlayedTake& take, Random& random) {
  const int lowest_midi = take.flute.notes.front().midi;
  const Timing timing = kind == WideKind::voice_filter ? Timing{{1.0, 1.4}, {0.2, 0.4}}
                        : kind == WideKind::fade       ? Timing{{0.9, 1.2}, {0.15, 0.25}}
                                                       : Timing{};
  if (kind == WideKind::octave_drop) {
    std::vector<Blowing> out;
    for (const int midi : major_scale(lowest_midi, compass_semitones + 2)) {
      const bool drops = midi >= lowest_midi + 12;
      if (drops) append_drop(out, midi, take.strengths.soft, random);
      const auto blows = drops ? std::vector<Blow>{Blow::moderate, Blow::hard} : three;
      std::ranges::copy(note_by_note({midi}, blows, take.strengths, timing, random), std::back_inserter(out));
    }
    return out;
  }
  if (kind == WideKind::hysteresis) {
    std::vector<Blowing> out;
    for (const int midi : major_scale(lowest_midi, 11)) append_hysteresis(out, midi, take.strengths, random);
    return out;
  }
  std::vector<int> notes = major_scale(lowest_midi, kind == WideKind::garklein ? 24 : compass_semitones);
  if (kind == WideKind::rate_8_khz || kind == WideKind::opus) {
    std::erase_if(notes, [&](int midi) { return target_hz(take.flute, midi) > 3300.0; });
  }
  return note_by_note(notes, three, take.strengths, timing, random);
}

/// The filter takes a steady tone for noise: some tenths of a second after each onset it turns everything down, and
/// opens again with the next.
void filter_voices(SyntheticTake& sound, Random& random) {
  const double depth_db = random.uniform(20.0, 40.0);
  for (std::size_t h = 0; h < sound.holds.size(); ++h) {
    const double shut_s = sound.holds[h].start_s + random.uniform(0.15, 0.4);
    const double fall_s = random.uniform(0.2, 0.6);
    const bool last = h + 1 == sound.holds.size();
    const auto until =
        last ? sound.samples.size() : static_cast<std::size_t>((sound.holds[h + 1].start_s - 0.005) * sound.rate_hz);
    for (auto i = static_cast<std::size_t>(shut_s * sound.rate_hz); i < until; ++i) {
      const double u = (static_cast<double>(i) / sound.rate_hz - shut_s) / fall_s;
      sound.samples[i] *= static_cast<float>(amplitude_from_db(-depth_db * std::min(u, 1.0)));
    }
  }
}

}  // namespace

std::vector<WideKind> wide_kinds() {
  return {WideKind::plain,       WideKind::steep_room, WideKind::octave_drop, WideKind::hysteresis,
          WideKind::fade,        WideKind::mp3,        WideKind::opus,        WideKind::voice_filter,
          WideKind::rate_16_khz, WideKind::rate_8_khz, WideKind::low_whistle, WideKind::garklein};
}

std::string kind_name(WideKind kind) {
  constexpr std::array names = {"plain", "steep_room",   "octave_drop", "hysteresis", "fade",        "mp3",
                                "opus",  "voice_filter", "rate_16_khz", "rate_8_khz", "low_whistle", "garklein"};
  return names[static_cast<std::size_t>(kind)];
}

WideTake play_wide_take(WideKind kind, std::uint64_t seed) {
  Random random(seed * 64 + static_cast<std::uint64_t>(kind));
  WideTake take;
  PlayedTake& played = take.played;
  played.flute = drawn_flute(kind, random);
  played.strengths = {random.uniform(-1.5, -1.0), random.uniform(0.8, 1.2)};
  if (kind == WideKind::steep_room) make_steep(played, random);
  const Performance performance = drawn_performance(kind, random);
  take.notes_told = kind != WideKind::octave_drop && kind != WideKind::hysteresis;
  take.ending = kind == WideKind::mp3 ? ".mp3" : kind == WideKind::opus ? ".opus" : ".wav";
  if (kind == WideKind::mp3) take.kbit_s = random.one_of(std::array{24.0, 32.0, 40.0});
  if (kind == WideKind::opus) take.kbit_s = random.one_of(std::array{10.0, 16.0, 24.0});
  played.blowings = planned_blows(kind, played, random);
  played.sound = kind == WideKind::fade ? fading_take(played.flute, played.blowings, performance, {}, random)
                                        : synthesise_take(played.flute, played.blowings, performance, random);
  if (kind == WideKind::voice_filter) filter_voices(played.sound, random);
  return take;
}

double write_take(const WideTake& take, const std::string& path) {
  const SyntheticTake& sound = take.played.sound;
  if (take.kbit_s <= 0.0) {
    write_sound(path, sound.samples, sound.rate_hz);
    return 0.0;
  }
  write_compressed(path, sound.samples, sound.rate_hz, take.kbit_s);
  return delay_in_file_s(path, sound.samples);
}

}  // namespace windway::synthesis
