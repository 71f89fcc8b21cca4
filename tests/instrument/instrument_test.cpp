// SPDX-License-Identifier: GPL-3.0-or-later
#include "instrument/instrument.hpp"

#include <gtest/gtest.h>

#include "units/units.hpp"

namespace windway {
namespace {

std::vector<int> midi_of_scale(const Instrument& instrument) {
  std::vector<int> midi;
  for (const ScaleNote& note : instrument.scale) midi.push_back(note.id.midi);
  return midi;
}

TEST(BuiltinInstrument, WhistleHasTheMajorScaleAndTheFlatSeventhOverTwoOctavesAndASecond) {
  const Instrument whistle = builtin_instrument(Kind::whistle, 74);
  EXPECT_EQ(midi_of_scale(whistle),
            (std::vector<int>{74, 76, 78, 79, 81, 83, 84, 85, 86, 88, 90, 91, 93, 95, 96, 97, 98, 100}));
  EXPECT_EQ(whistle.lowest_midi, 74);
  EXPECT_TRUE(whistle.head_moves);
  EXPECT_FALSE(whistle.name);
  EXPECT_FALSE(whistle.travel_mm);
}

TEST(BuiltinInstrument, RecorderIsChromaticOverTwoOctavesAndATone) {
  const Instrument recorder = builtin_instrument(Kind::recorder, 65);
  ASSERT_EQ(recorder.scale.size(), 27u);
  for (std::size_t i = 0; i < recorder.scale.size(); ++i)
    EXPECT_EQ(recorder.scale[i].id.midi, 65 + static_cast<int>(i));
}

TEST(BuiltinInstrument, EndsAtTheHighestMidiKey) {
  for (const Kind kind : {Kind::whistle, Kind::recorder})
    for (int lowest_midi = 0; lowest_midi < midi_keys; ++lowest_midi) {
      const Instrument instrument = builtin_instrument(kind, lowest_midi);
      EXPECT_EQ(instrument.scale.front().id.midi, lowest_midi);
      EXPECT_TRUE(is_midi_key(instrument.scale.back().id.midi)) << lowest_midi;
    }
}

TEST(BuiltinInstrument, GivesEveryNoteItsRegister) {
  for (const Kind kind : {Kind::whistle, Kind::recorder})
    for (const ScaleNote& note : builtin_instrument(kind, 72).scale) {
      EXPECT_EQ(note.register_number, register_of(kind, note.id.midi - 72));
      EXPECT_EQ(note.weight, 1.0);
    }
}

TEST(TargetHz, OfANoteIsWhereItsMakerMeansItToTheLastDigit) {
  Instrument whistle = builtin_instrument(Kind::whistle, 74);
  const Tuning tuning{442.0, {TemperamentName::just, 2, {}}};
  for (const ScaleNote& note : whistle.scale)
    EXPECT_EQ(target_hz(note.id, whistle, tuning), target_hz(note.id.midi, tuning));
  whistle.scale[3].target_cents = -8.0;  // G5
  EXPECT_NEAR(cents_between(target_hz(79, tuning), target_hz({79}, whistle, tuning)), -8.0, 1e-9);
  EXPECT_EQ(target_hz({78}, whistle, tuning), target_hz(78, tuning));
  EXPECT_EQ(own_targets(whistle), (std::vector<NoteTarget>{{{79}, -8.0}}));
}

TEST(TargetHz, BendsEvenlyFromTheLowestNoteByTheStretch) {
  Instrument whistle = builtin_instrument(Kind::whistle, 74);
  whistle.stretch_cents_per_octave = 4.0;
  whistle.scale[3].target_cents = -8.0;  // G5, which the stretch adds to
  EXPECT_EQ(intended_cents(whistle, {74}), 0.0);
  EXPECT_NEAR(intended_cents(whistle, {75}), 4.0 / 12.0, 1e-12);  // a note outside the scale lies on the same line
  EXPECT_NEAR(intended_cents(whistle, {79}), -8.0 + 20.0 / 12.0, 1e-12);
  EXPECT_NEAR(intended_cents(whistle, {98}), 8.0, 1e-12);
  for (const int midi : {74, 76, 81})
    EXPECT_NEAR(cents_between(target_hz({midi}, whistle, {}), target_hz({midi + 12}, whistle, {})), 1204.0, 1e-9);
}

// From memory, no source: the rule of the manual.
TEST(RegisterOf, ChangesAtTheOctaveOnAWhistleAndLaterOnARecorder) {
  EXPECT_EQ(register_of(Kind::whistle, 0), 1);
  EXPECT_EQ(register_of(Kind::whistle, 11), 1);
  EXPECT_EQ(register_of(Kind::whistle, 12), 2);
  EXPECT_EQ(register_of(Kind::whistle, 26), 2);
  EXPECT_EQ(register_of(Kind::recorder, 14), 1);
  EXPECT_EQ(register_of(Kind::recorder, 15), 2);
  EXPECT_EQ(register_of(Kind::recorder, 21), 2);
  EXPECT_EQ(register_of(Kind::recorder, 22), 3);
}

TEST(KindName, IsAWord) {
  EXPECT_EQ(kind_name(Kind::whistle), "whistle");
  EXPECT_EQ(kind_name(Kind::recorder), "recorder");
}

}  // namespace
}  // namespace windway
