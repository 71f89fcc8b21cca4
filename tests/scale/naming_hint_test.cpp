// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include "invented_holds.hpp"

namespace windway::testing {
namespace {

TEST(NameHoldsUntold, InfersAWhistleFromItsScaleAndSaysSo) {
  for (const int lowest : {62, 65, 67, 70, 72, 74, 77, 79})
    for (const double cents : {-30.0, 0.0, 30.0}) {
      const auto meant = transposed(steps(two_octaves(lowest)), cents);
      const Naming naming = name_holds(holds_of(meant), {}, {440});
      EXPECT_EQ(midi_of_named(naming), midi_of_meant(meant)) << lowest << " " << cents;
      EXPECT_EQ(naming.instrument.lowest_midi, lowest) << cents;
      EXPECT_EQ(naming.instrument.kind, Kind::whistle) << lowest;
      EXPECT_TRUE(naming.inferred);
      EXPECT_NE(warning_text(naming, WarningCode::instrument_inferred).find("say --kind and --lowest"),
                std::string::npos);
    }
}

TEST(NameHoldsUntold, NamesTheInstrumentItTookTheRecordingFor) {
  const Naming naming = name_holds(holds_of(steps(two_octaves(74))), {}, {440});
  EXPECT_NE(warning_text(naming, WarningCode::instrument_inferred).find("the flute is a whistle in D from D5"),
            std::string::npos);
}

TEST(NameHoldsUntold, SpellsNotesInItsSentencesAsThePlayerDoes) {
  InstrumentHint hint;
  hint.note_names = NoteNames::german;
  const Naming in_b_flat = name_holds(holds_of(steps(two_octaves(70))), hint, {440});
  EXPECT_NE(warning_text(in_b_flat, WarningCode::instrument_inferred).find("whistle in B from B4"), std::string::npos);
  const Naming one_note = name_holds(holds_of({{71, 8}}), hint, {440});
  EXPECT_NE(warning_text(one_note, WarningCode::one_note_played).find("only H4 was played"), std::string::npos);
}

TEST(NameHoldsUntold, FindsTheLowestNoteThoughItWasSkipped) {
  auto notes = two_octaves(74);
  auto meant = steps(notes);
  meant.erase(meant.begin(), meant.begin() + 3);
  const Naming naming = name_holds(holds_of(meant), {}, {440});
  EXPECT_EQ(naming.instrument.lowest_midi, 74);
  EXPECT_EQ(midi_of_named(naming), midi_of_meant(meant));
}

TEST(NameHoldsUntold, TakesManySemitonesForARecorder) {
  std::vector<MeantHold> meant;
  for (int midi = 72; midi <= 93; ++midi) meant.push_back({midi, 6});
  const Naming naming = name_holds(holds_of(meant), {}, {440});
  EXPECT_EQ(naming.instrument.kind, Kind::recorder);
  EXPECT_EQ(naming.instrument.lowest_midi, 72);
  EXPECT_EQ(midi_of_named(naming), midi_of_meant(meant));
}

TEST(NameHoldsUntold, OwnsUpWhereAnotherInstrumentWouldFitNearlyAsWell) {
  const Naming naming = name_holds(holds_of({{78, 2}, {81, 3}}), {}, {440});
  EXPECT_NE(warning_text(naming, WarningCode::instrument_inferred).find("nearly as well"), std::string::npos);
}

TEST(NameHoldsUntold, NamesTheRivalOfTheSameKeyWhereRecordersAreCommon) {
  for (const int lowest : {65, 72, 77}) {
    const Naming naming = name_holds(holds_of(steps(two_octaves(lowest))), {}, {440});
    ASSERT_TRUE(naming.rival) << lowest;
    EXPECT_EQ(naming.rival->kind, Kind::recorder);
    EXPECT_EQ(naming.rival->lowest_midi, lowest);
    InstrumentHint kind_said;
    kind_said.kind = Kind::whistle;
    EXPECT_FALSE(name_holds(holds_of(steps(two_octaves(lowest))), kind_said, {440}).rival) << lowest;
  }
  EXPECT_FALSE(name_holds(holds_of(steps(two_octaves(74))), {}, {440}).rival);  // recorders in D are rare
}

TEST(NameHoldsUntold, TakesASingleNoteForTheLowestAndSaysWhatIsMissing) {
  const Naming naming = name_holds(holds_of({{74, 8}}), {}, {440});
  ASSERT_EQ(naming.holds.size(), 1u);
  EXPECT_EQ(naming.holds[0].note.midi, 74);
  EXPECT_EQ(naming.instrument.lowest_midi, 74);
  EXPECT_NE(warning_text(naming, WarningCode::one_note_played).find("only D5 was played"), std::string::npos);
}

TEST(NameHoldsHalfTold, ReadsTheOctaveFromTheRecording) {
  for (const int lowest : {62, 74}) {
    const auto meant = transposed(steps(two_octaves(lowest)), 55);
    const Naming naming = name_holds(holds_of(meant), told(Kind::whistle, "D"), {440});
    EXPECT_EQ(naming.instrument.lowest_midi, lowest);
    EXPECT_EQ(midi_of_named(naming), midi_of_meant(meant));
    EXPECT_FALSE(naming.inferred);
    EXPECT_FALSE(has_warning(naming, WarningCode::octave_inferred));
  }
}

TEST(NameHoldsHalfTold, SaysWhichOctaveItTookWhereTheLowestNoteWasNotPlayed) {
  const Naming naming = name_holds(holds_of({{81, 0}}), told(Kind::whistle, "D"), {440});
  EXPECT_EQ(naming.instrument.lowest_midi, 74);
  EXPECT_NE(warning_text(naming, WarningCode::octave_inferred).find("taken as D5"), std::string::npos);
}

TEST(NameHoldsHalfTold, InfersTheKindAloneOrTheLowestNoteAlone) {
  const auto meant = steps(two_octaves(74));
  InstrumentHint lowest_only, kind_only;
  lowest_only.lowest = parse_note("D5", NoteNames::english);
  kind_only.kind = Kind::whistle;
  const Naming by_lowest = name_holds(holds_of(meant), lowest_only, {440});
  const Naming by_kind = name_holds(holds_of(meant), kind_only, {440});
  EXPECT_EQ(by_lowest.instrument.kind, Kind::whistle);
  EXPECT_EQ(by_kind.instrument.lowest_midi, 74);
  EXPECT_TRUE(by_lowest.inferred && by_kind.inferred);
  EXPECT_NE(warning_text(by_lowest, WarningCode::instrument_inferred).find("say --kind"), std::string::npos);
  EXPECT_NE(warning_text(by_kind, WarningCode::instrument_inferred).find("say --lowest"), std::string::npos);
}

TEST(NameHoldsHalfTold, DoubtsALowestNoteThatARunInAnotherKeyNeverComesDownTo) {
  InstrumentHint alto_as_c;
  alto_as_c.lowest = parse_note("C4", NoteNames::english);
  const std::string doubt =
      warning_text(name_holds(holds_of(steps(two_octaves(65))), alto_as_c, {440}), WarningCode::scale_doubtful);
  EXPECT_NE(doubt.find("in F from F4"), std::string::npos) << doubt;
  auto upper_part = steps(two_octaves(74));  // a whistle in D from its fourth note up is one in D all the same
  upper_part.erase(upper_part.begin(), upper_part.begin() + 3);
  EXPECT_FALSE(
      has_warning(name_holds(holds_of(upper_part), told(Kind::whistle, "D5"), {440}), WarningCode::scale_doubtful));
}

TEST(NameHoldsTold, DoubtsAScaleThatDoesNotFitAndSaysWhatItHears) {
  const Naming naming = name_holds(holds_of(steps(two_octaves(76))), told(Kind::whistle, "C5"), {440});
  const std::string doubt = warning_text(naming, WarningCode::scale_doubtful);
  EXPECT_NE(doubt.find("does not fit a whistle in C from C5"), std::string::npos) << doubt;
  EXPECT_NE(doubt.find("sounds like a whistle in E from E5"), std::string::npos) << doubt;
}

TEST(NameHoldsTold, SaysAtWhichReferencePitchTheFluteThatWasNamedFits) {
  const Naming naming = name_holds(holds_of(steps(two_octaves(74))), told(Kind::whistle, "D5"), {415});
  const std::string doubt = warning_text(naming, WarningCode::scale_doubtful);
  EXPECT_NE(doubt.find("with A4 at about 440 Hz like a whistle in D from D5"), std::string::npos) << doubt;
}

TEST(NameHoldsTold, DoesNotDoubtAFluteSixtyCentsOffNorATuneInAnotherKey) {
  for (const double cents : {-60.0, 60.0}) {
    const auto meant = transposed(steps(two_octaves(74)), cents);
    EXPECT_TRUE(name_holds(holds_of(meant), told(Kind::whistle, "D5"), {440}).warnings.empty()) << cents;
  }
  const std::vector<int> g_major = {79, 81, 83, 84, 86, 88, 90, 91};
  const auto meant = steps(g_major);
  for (const Warning& warning : name_holds(holds_of(meant), told(Kind::whistle, "D5"), {440}).warnings)
    EXPECT_EQ(warning.code, WarningCode::part_of_scale) << warning.message;
}

}  // namespace
}  // namespace windway::testing
