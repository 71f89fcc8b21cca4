// SPDX-License-Identifier: GPL-3.0-or-later
#include "bench.hpp"

namespace windway::samples {
namespace {

constexpr int f4 = 65, g4 = 67, b_flat4 = 70, c5 = 72, d5 = 74;

/// Recorded with room to spare: quiet takes make small files, and nothing clips.
SampleTake take_of(const char* serial, const char* name) {
  SampleTake take;
  take.serial = serial;
  take.name = name;
  take.performance.chain.peak = 0.08;
  take.performance.chain.floor_db = -80.0;
  return take;
}

SampleTake sharp_whistle() {
  SampleTake take = take_of("HW-0412", "hw-0412-steps");
  take.flute = "whistle in D, brass, head fully in";
  take.played = "scale up to B6, each note soft, moderate, hard";
  take.draw = {Kind::whistle, d5, 440.0, 12.0, 4.5, 32.0};
  take.timing = {{0.62, 0.78}, {0.14, 0.22}};
  return take;
}

SampleTake same_whistle_drawn_out() {
  SampleTake take = sharp_whistle();
  take.name = "hw-0412-drawn-out";
  take.flute = "the same whistle, head 1.3 mm out";
  take.played = "low octave, each note soft, moderate, hard";
  take.head_out_mm = 1.3;
  take.semitones = 11;
  return take;
}

SampleTake alto_recorder() {
  SampleTake take = take_of("HW-0388", "hw-0388-recorder");
  take.flute = "alto recorder in F, pear wood, the head stays where it is";
  take.played = "scale up to D6, each note soft, moderate, hard; a live room";
  take.draw = {Kind::recorder, f4, 440.0, -4.0, 5.0, 32.0};
  take.head_moves = false;
  take.timing = {{0.5, 0.65}, {0.15, 0.22}};
  take.performance.chain.reverb_s = 0.4;
  take.performance.chain.reverb_db = -16.0;
  return take;
}

SampleTake swelled_whistle() {
  SampleTake take = take_of("HW-0405", "hw-0405-swells");
  take.flute = "low whistle in G, aluminium, head 6 mm out";
  take.played = "scale up to E6, each note one swell from soft to hard";
  take.draw = {Kind::whistle, g4, 440.0, 16.0, 5.0, 32.0};
  take.head_out_mm = 6.0;
  take.blows = {Blow::swell};
  take.timing = {{1.6, 1.9}, {0.2, 0.3}};
  return take;
}

SampleTake plain_whistle() {
  SampleTake take = take_of("HW-0431", "hw-0431-plain");
  take.flute = "whistle in C, tin plate, head fully in";
  take.played = "scale up to A6, each note once, as it comes: no spread can be known";
  take.draw = {Kind::whistle, c5, 440.0, 7.0, 5.5, 28.0};
  take.blows = {Blow::moderate};
  take.timing = {{0.8, 1.05}, {0.15, 0.25}};
  return take;
}

SampleTake cold_whistle() {
  SampleTake take = take_of("HW-0427", "hw-0427-cold");
  take.flute = "whistle in B flat, brass, head 2 mm out, cold when it began";
  take.played = "lowest six notes up and down again, each note soft, moderate, hard, while it warms by 9 cents";
  take.draw = {Kind::whistle, b_flat4, 440.0, 14.0, 4.5, 32.0};
  take.head_out_mm = 2.0;
  take.semitones = 9;
  take.order = Order::there_and_back;
  take.timing = {{0.58, 0.7}, {0.12, 0.18}};
  take.performance.warming_cents = 9.0;
  return take;
}

SampleTake talked_recorder() {
  SampleTake take = take_of("HW-0416", "hw-0416-talk");
  take.flute = "soprano recorder in C, maple, head fully in";
  take.played =
      "lowest seven notes, each note soft, moderate, hard; talk between, mains hum, one microphone of two dead";
  take.draw = {Kind::recorder, c5, 440.0, 14.0, 4.5, 29.0};
  take.semitones = 11;
  take.timing = {{0.6, 0.8}, {0.15, 0.3}};
  take.one_microphone_dead = true;
  take.performance.talk_after_blows = 6;
  take.performance.chain.hum_db = -64.0;
  take.performance.chain.floor_db = -76.0;
  return take;
}

}  // namespace

std::vector<SampleTake> bench_takes() {
  return {sharp_whistle(), same_whistle_drawn_out(), alto_recorder(),  swelled_whistle(),
          plain_whistle(), cold_whistle(),           talked_recorder()};
}

}  // namespace windway::samples
