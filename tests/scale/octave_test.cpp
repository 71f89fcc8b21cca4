// SPDX-License-Identifier: GPL-3.0-or-later
#include "scale/octave.hpp"

#include <gtest/gtest.h>

#include "error.hpp"
#include "invented_holds.hpp"
#include "scale/range.hpp"

namespace windway::testing {
namespace {

std::string refusal(const std::vector<MeantHold>& meant, const InstrumentHint& hint) {
  try {
    name_holds(holds_of(meant), hint, {440});
  } catch (const Error& error) {
    EXPECT_EQ(error.kind(), ErrorKind::usage);
    return error.what();
  }
  return "";
}

TEST(WrongOctave, IsRefusedInWordsWhereTheWrittenNoteWasGiven) {
  for (const double cents : {-60.0, 0.0, 60.0}) {
    const std::string message = refusal(transposed(steps(two_octaves(74)), cents), told(Kind::whistle, "D4"));
    EXPECT_NE(message.find("whistles and soprano recorders sound an octave above their written notes: the recording "
                           "says D5, not D4"),
              std::string::npos)
        << cents << message;
  }
  EXPECT_NE(refusal(steps(two_octaves(72)), told(Kind::recorder, "C4")).find("says C5, not C4"), std::string::npos);
  EXPECT_NE(refusal(steps(two_octaves(77)), told(Kind::whistle, "F3")).find("says F5, not F3"), std::string::npos);
}

TEST(WrongOctave, IsRefusedWhereItIsTooHigh) {
  EXPECT_NE(refusal(steps(two_octaves(74)), told(Kind::whistle, "D6")).find("says D5, not D6"), std::string::npos);
  EXPECT_NE(refusal({{62, 0}}, told(Kind::whistle, "D5")).find("says D4, not D5"), std::string::npos);
  InstrumentHint german = told(Kind::whistle, "Bb3");
  german.note_names = NoteNames::german;
  EXPECT_NE(refusal(steps(two_octaves(70)), german).find("says B4, not B3"), std::string::npos);
}

TEST(WrongOctave, IsRefusedThoughTheHoldsFarOutOfRangeWereDropped) {
  for (const double cents : {-60.0, 0.0, 60.0})
    for (const char* lowest : {"D3", "D4", "D6", "D7"}) {
      const InstrumentHint hint = told(Kind::whistle, lowest);
      const auto holds = in_range(holds_of(transposed(steps(two_octaves(74)), cents)), hint, 440);
      EXPECT_THROW(name_holds(holds, hint, {440}), Error) << lowest << " " << cents;
    }
}

TEST(WrongOctave, IsRefusedForOneOctaveOfScaleFromTheLowestNotesOctave) {
  auto meant = steps(two_octaves(74));
  meant.resize(21);
  EXPECT_NE(refusal(meant, told(Kind::whistle, "D4")).find("says D5, not D4"), std::string::npos);
}

TEST(WrongOctave, IsRefusedForAnInstrumentKnownWhollyToo) {
  InstrumentHint hint;
  hint.instrument = builtin_instrument(Kind::whistle, 62);
  EXPECT_NE(refusal(steps(two_octaves(74)), hint).find("says D5, not D4"), std::string::npos);
}

TEST(RightOctave, IsKeptForAFewNotesOfTheUpperOctave) {
  EXPECT_EQ(refusal({{86, 10}}, told(Kind::whistle, "D5")), "");  // a check note
  EXPECT_EQ(refusal({{81, 0}, {83, 5}, {86, 0}, {88, 3}}, told(Kind::whistle, "D4")), "");
}

TEST(RightOctave, IsKeptThoughOneStrayToneLiesFarBelow) {
  auto meant = steps(two_octaves(74));
  meant.insert(meant.begin() + 3, {57, 20, -40});
  const Naming naming = name_holds(holds_of(meant), told(Kind::whistle, "D5"), {440});
  EXPECT_EQ(midi_of_named(naming), midi_of_meant(meant));
  EXPECT_FALSE(naming.holds[3].in_scale);
}

TEST(RightOctave, IsKeptWhereTheRecordingIsOfAnotherInstrumentAltogether) {
  EXPECT_EQ(octaves_off(builtin_instrument(Kind::whistle, 74), {74, 76, 78, 79, 81, 83, 85, 86}), 0);
  EXPECT_EQ(octaves_off(builtin_instrument(Kind::whistle, 74), {50, 62, 74, 86, 98, 70, 66, 90}), 0);
}

}  // namespace
}  // namespace windway::testing
