// SPDX-License-Identifier: GPL-3.0-or-later
#include "scale/naming.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <random>

#include "invented_holds.hpp"
#include "units/units.hpp"

namespace windway::testing {
namespace {

constexpr int d5 = 74;

TEST(NameHolds, NamesAScaleOfSoftModerateAndHardBlows) {
  const auto meant = steps(two_octaves(d5));
  const Naming naming = name_holds(holds_of(meant), told(Kind::whistle, "D5"), {440});
  EXPECT_EQ(midi_of_named(naming), midi_of_meant(meant));
  EXPECT_FALSE(naming.inferred);
  EXPECT_EQ(naming.instrument.lowest_midi, d5);
  EXPECT_TRUE(naming.warnings.empty());
  for (std::size_t i = 0; i < meant.size(); ++i) {
    EXPECT_TRUE(naming.holds[i].in_scale);
    EXPECT_NEAR(naming.holds[i].target_hz, equal_tempered_hz(meant[i].midi, 440), 1e-9);
    EXPECT_NEAR(naming.holds[i].deviation_cents, meant[i].cents, 1e-9);
  }
}

TEST(NameHolds, KeepsEveryNameWhenTheWholeFluteIsUpToSixtyCentsOff) {
  const auto meant = steps(two_octaves(d5));
  for (int cents = -60; cents <= 60; cents += 4) {
    const Naming naming = name_holds(holds_of(transposed(meant, cents)), told(Kind::whistle, "D5"), {440});
    EXPECT_EQ(midi_of_named(naming), midi_of_meant(meant)) << cents;
    EXPECT_NEAR(naming.holds[1].deviation_cents, cents, 1e-9);
  }
}

TEST(NameHolds, GivesTheReversedTakeTheSameNames) {
  auto meant = steps(two_octaves(d5));
  std::reverse(meant.begin(), meant.end());
  EXPECT_EQ(midi_of_named(name_holds(holds_of(meant), told(Kind::whistle, "D5"), {440})), midi_of_meant(meant));
}

TEST(NameHolds, GivesTheSameNamesWithLongSilencesBetween) {
  const auto meant = steps(two_octaves(d5));
  const Naming close = name_holds(holds_of(meant, 440, 0.1), told(Kind::whistle, "D5"), {440});
  const Naming apart = name_holds(holds_of(meant, 440, 20.0), told(Kind::whistle, "D5"), {440});
  EXPECT_EQ(midi_of_named(close), midi_of_named(apart));
}

TEST(NameHolds, AnswersInTheOrderGivenWhateverTheOrderOfTime) {
  const auto meant = steps(two_octaves(d5));
  auto holds = holds_of(meant);
  std::reverse(holds.begin(), holds.end());
  auto expected = midi_of_meant(meant);
  std::reverse(expected.begin(), expected.end());
  EXPECT_EQ(midi_of_named(name_holds(holds, told(Kind::whistle, "D5"), {440})), expected);
}

TEST(NameHolds, FollowsTheReferencePitch) {
  const auto meant = steps(two_octaves(d5));
  const Naming naming = name_holds(holds_of(meant, 415), told(Kind::whistle, "D5"), {415});
  EXPECT_EQ(midi_of_named(naming), midi_of_meant(meant));
  EXPECT_NEAR(naming.holds[4].deviation_cents, meant[4].cents, 1e-9);
}

TEST(NameHolds, TellsTheFlatSeventhFromTheSeventh) {
  const Naming naming = name_holds(
      holds_of({{81, 5}, {83, -10}, {84, 10}, {83, 0}, {85, -45}, {85, 0}, {85, 30}, {86, 0}, {84, -30}, {83, 0}}),
      told(Kind::whistle, "D5"), {440});
  EXPECT_EQ(midi_of_named(naming), (std::vector<int>{81, 83, 84, 83, 85, 85, 85, 86, 84, 83}));
}

TEST(NameHolds, GivesAHoldOutsideTheScaleItsOwnName) {
  auto meant = steps(two_octaves(d5));
  meant.insert(meant.begin() + 20, {80, 4, -15});  // G#5 on a whistle in D
  for (const double cents : {-55.0, 0.0, 55.0}) {
    const Naming naming = name_holds(holds_of(transposed(meant, cents)), told(Kind::whistle, "D5"), {440});
    EXPECT_EQ(midi_of_named(naming), midi_of_meant(meant)) << cents;
    EXPECT_FALSE(naming.holds[20].in_scale);
    EXPECT_EQ(std::count_if(naming.holds.begin(), naming.holds.end(), [](auto& h) { return !h.in_scale; }), 1);
    EXPECT_NE(warning_text(naming, WarningCode::not_in_scale).find("G#5"), std::string::npos);
  }
}

TEST(NameHolds, NamesAnOverblownHoldByItsOwnPitch) {
  auto meant = steps(two_octaves(d5));
  meant[5] = {88, 15, -12};  // the hard E5 broke into E6
  EXPECT_EQ(midi_of_named(name_holds(holds_of(meant), told(Kind::whistle, "D5"), {440})), midi_of_meant(meant));
}

TEST(NameHolds, ForgivesAFluteThatWarmsByTenCents) {
  auto meant = steps(two_octaves(d5));
  for (std::size_t i = 0; i < meant.size(); ++i)
    meant[i].cents += 10.0 * static_cast<double>(i) / static_cast<double>(meant.size());
  EXPECT_EQ(midi_of_named(name_holds(holds_of(meant), told(Kind::whistle, "D5"), {440})), midi_of_meant(meant));
}

TEST(NameHolds, NamesNotesSkippedAndInRandomOrder) {
  std::mt19937 random(5);
  for (int trial = 0; trial < 20; ++trial) {
    auto notes = two_octaves(d5);
    const auto all = steps(notes);
    std::shuffle(notes.begin(), notes.end(), random);
    std::vector<MeantHold> meant;
    for (std::size_t i = 2; i < notes.size(); ++i)
      for (const MeantHold& hold : all)
        if (hold.midi == notes[i]) meant.push_back(hold);
    const Naming naming = name_holds(holds_of(transposed(meant, 25)), told(Kind::whistle, "D5"), {440});
    EXPECT_EQ(midi_of_named(naming), midi_of_meant(meant)) << trial;
  }
}

TEST(NameHolds, GivesEachPooledTakeItsOwnOffset) {
  std::vector<MeantHold> meant;  // a soft, a moderate and a hard take, the flute 40 cents sharp
  const auto all = steps(two_octaves(d5));
  for (std::size_t blow = 0; blow < 3; ++blow)
    for (std::size_t note = 0; note < 14; ++note) {
      meant.push_back(all[3 * note + blow]);
      meant.back().cents += 40;
      meant.back().take = static_cast<int>(blow);
    }
  EXPECT_EQ(midi_of_named(name_holds(holds_of(meant), told(Kind::whistle, "D5"), {440})), midi_of_meant(meant));
}

TEST(NameHolds, NamesARecorderSixtyCentsSharpInItsOwnKey) {
  const auto meant = transposed(steps(two_octaves(72)), 60);
  EXPECT_EQ(midi_of_named(name_holds(holds_of(meant), told(Kind::recorder, "C5"), {440})), midi_of_meant(meant));
}

TEST(NameHolds, TakesTheScaleOfAnInstrumentKnownWholly) {
  InstrumentHint hint;
  hint.instrument.emplace();
  hint.instrument->name = "five notes";
  hint.instrument->lowest_midi = 69;
  hint.instrument->scale = {{69}, {72}, {74}, {76}, {79}};
  const Naming naming = name_holds(holds_of({{69, 40}, {72, 45}, {74, 38}, {76, 41}, {77, 40}, {79, 44}}), hint, {440});
  EXPECT_EQ(midi_of_named(naming), (std::vector<int>{69, 72, 74, 76, 77, 79}));
  EXPECT_FALSE(naming.holds[4].in_scale);
  EXPECT_EQ(naming.instrument.name, "five notes");
  EXPECT_FALSE(naming.inferred);
}

}  // namespace
}  // namespace windway::testing
