// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "playing/playing.hpp"
#include "recording/written_file.hpp"
#include "support/melodies.hpp"
#include "support/sound_file.hpp"

namespace windway {
namespace {

using synthesis::RenderedMelody;

/// The scale take as the flute itself would answer: moderate blows, a reach of 20 cents to soft and 12 to hard.
std::vector<NoteBreath> true_scale_take(const synthesis::FluteModel& flute) {
  std::vector<NoteBreath> notes;
  for (const ScaleNote& known : builtin_instrument(flute.kind, flute.notes.front().midi).scale) {
    NoteBreath note;
    note.id.midi = known.id.midi;
    note.register_number = known.register_number;
    note.target_hz = synthesis::target_hz(flute, known.id.midi);
    note.moderate = {synthesis::cents_at(synthesis::note_of(flute, known.id.midi), 0.0), 0.5};
    note.reach_soft_cents = 20.0;
    note.reach_hard_cents = 12.0;
    notes.push_back(note);
  }
  return notes;
}

Playing measured(const RenderedMelody& melody, const MeasureSettings& settings,
                 const std::vector<NoteBreath>& scale_take) {
  const test::TemporaryFolder folder;
  const std::string path = folder.path_of("melody.wav");
  synthesis::write_sound(path, melody.sound.samples, melody.sound.rate_hz);
  return measure_playing(path, settings, scale_take);
}

RenderedMelody sharp_above() { return synthesis::play_melody({.upper_doublings = 0.8}, 2); }

TEST(FurtherMove, EachRegisterIsSharperThanTheScaleTakeByWhatItIsBlownHarder) {
  const RenderedMelody melody = synthesis::play_melody({.upper_doublings = 1.5}, 2);
  const Playing found = measured(melody, {}, true_scale_take(melody.flute));
  ASSERT_EQ(found.registers.size(), 2U);
  ASSERT_TRUE(found.registers[0].from_take && found.registers[1].from_take);
  for (const PlayedRegister& each : found.registers) {
    double true_cents = 0, seconds = 0;
    for (const auto& note : synthesis::true_melody_notes(melody)) {
      const auto& model = synthesis::note_of(melody.flute, note.midi);
      if (model.register_number != each.register_number) continue;
      true_cents += note.sounded_s * (note.median_cents - synthesis::cents_at(model, 0.0));
      seconds += note.sounded_s;
    }
    EXPECT_NEAR(each.from_take->cents, true_cents / seconds, 1.0) << each.register_number;
  }
  EXPECT_GT(found.registers[1].from_take->cents, found.registers[1].from_take->u95_cents);
}

TEST(FurtherMove, LeavesTheLeastCostOfThePlayedNotes) {
  const RenderedMelody melody = sharp_above();
  const Playing found = measured(melody, {}, true_scale_take(melody.flute));
  ASSERT_TRUE(found.further);
  // By brute force: reach 20 cents to soft, 12 to hard, weighted by time (all efforts stay under the knee).
  const auto cost = [&](double slide_mm) {
    double sum = 0;
    for (const auto& note : synthesis::true_melody_notes(melody)) {
      const auto& model = synthesis::note_of(melody.flute, note.midi);
      const double now_hz = hz_at_cents(synthesis::target_hz(melody.flute, note.midi), note.median_cents);
      const double length_mm = synthesis::effective_length_mm(model.register_number, now_hz);
      const double cents = note.median_cents + synthesis::slide_cents(length_mm, slide_mm);
      sum += note.sounded_s * std::pow(cents / (cents > 0 ? 20.0 : 12.0), 2);
    }
    return sum;
  };
  double best_mm = -20;
  for (double slide_mm = -20; slide_mm < 20; slide_mm += 0.01)
    if (cost(slide_mm) < cost(best_mm)) best_mm = slide_mm;
  EXPECT_NEAR(found.further->slide_mm, best_mm, 0.1);
  EXPECT_NEAR(found.further->slide_mm, best_mm, found.further->slide_u95_mm);
}

TEST(FurtherMove, KeepsToTheHeadsLimits) {
  const RenderedMelody melody = sharp_above();
  MeasureSettings settings;
  settings.head.out_mm = 3.0;
  settings.head.travel_mm = 3.0;  // as far out as it goes; the playing is sharp
  settings.tuning.a4_hz = 437.0;
  const Playing found = measured(melody, settings, {});
  ASSERT_TRUE(found.further);
  EXPECT_EQ(found.further->limit, SlideLimit::travel);
  EXPECT_NEAR(found.further->slide_mm, 0.0, 1e-9);
}

TEST(WeightsFrom, AreTheSharesOfTime) {
  const RenderedMelody melody = sharp_above();
  const std::vector<NoteWeight> weights = weights_from(measured(melody, {}, {}));
  const auto truth = synthesis::true_melody_notes(melody);
  double all_s = 0, all_weight = 0;
  for (const auto& note : truth) all_s += note.sounded_s;
  for (const NoteWeight& each : weights) {
    const auto note = std::ranges::find(truth, each.midi, &synthesis::TrueMelodyNote::midi);
    ASSERT_NE(note, truth.end());
    EXPECT_NEAR(each.weight, note->sounded_s / all_s, 0.015) << each.midi;
    all_weight += each.weight;
  }
  EXPECT_NEAR(all_weight, 1.0, 1e-9);
  NoteBreath never_played;
  never_played.id.midi = 1;
  EXPECT_EQ(weighted({never_played}, weights).front().weight, 0.0);
}

}  // namespace
}  // namespace windway
