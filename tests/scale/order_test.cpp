// SPDX-License-Identifier: GPL-3.0-or-later
#include "scale/order.hpp"

#include <gtest/gtest.h>

#include "error.hpp"
#include "invented_holds.hpp"
#include "report/player/protocol.hpp"

namespace windway {
namespace {

using namespace windway::testing;

InstrumentHint ordered(const std::string& order) {
  InstrumentHint hint = told(Kind::whistle, "D5");
  hint.order = parse_order(order, NoteNames::english);
  return hint;
}

std::vector<std::string> fingerings_of(const Naming& naming) {
  std::vector<std::string> fingerings;
  for (const NamedHold& hold : naming.holds) fingerings.push_back(hold.note.fingering);
  return fingerings;
}

bool warns(const Naming& naming, const std::string& words) {
  for (const Warning& warning : naming.warnings)
    if (warning.code == WarningCode::not_heard && warning.message.find(words) != std::string::npos) return true;
  return false;
}

TEST(Order, TellsTwoFingeringsOfOneNoteApart) {
  std::vector<MeantHold> meant;
  for (const int midi : {74, 76, 78, 79, 81, 83, 85})
    for (const double cents : {-8.0, 0.0, 8.0}) meant.push_back({midi, cents});
  for (const double cents : {-8.0, 0.0, 8.0}) meant.push_back({86, cents});
  for (const double cents : {-2.0, 6.0, 12.0}) meant.push_back({86, cents});  // vented, a little sharper
  const Naming naming = name_holds(holds_of(meant), ordered("D5 E5 F#5 G5 A5 B5 C#6 D6 D6:vented"), {440});
  std::vector<std::string> expected(meant.size());
  std::fill(expected.end() - 3, expected.end(), "vented");
  EXPECT_EQ(fingerings_of(naming), expected);
  EXPECT_EQ(midi_of_named(naming), midi_of_meant(meant));
  EXPECT_TRUE(scale_note(naming.instrument, {86, "vented"}));
  EXPECT_FALSE(warns(naming, ""));
}

TEST(Order, SaysWhatWasNotHeard) {
  const std::vector<MeantHold> meant{{74, 0}, {74, 3}, {78, 0}, {78, 2}, {79, 0}, {79, 1}};
  const Naming naming = name_holds(holds_of(meant), ordered("D5 E5 F#5 G5 A5:vented"), {440});
  EXPECT_EQ(midi_of_named(naming), midi_of_meant(meant));
  EXPECT_TRUE(warns(naming, "E5, A5:vented"));
}

TEST(Order, TakesNoBlowForANoteThatWasNotPlayed) {
  const std::vector<MeantHold> meant{{83, -15}, {83, 10}, {83, 34}, {85, -21}, {85, 4},  {85, 18},
                                     {86, -3},  {86, 3},  {86, 8},  {88, 5},   {88, 15}, {88, 21}};
  const Naming naming = name_holds(holds_of(meant), ordered("B5 C6 C#6 D6 E6 F6 E6 D6 C#6 C6 B5"), {440});
  EXPECT_EQ(midi_of_named(naming), midi_of_meant(meant));
  EXPECT_TRUE(warns(naming, "C6"));
}

TEST(Order, LeavesAHoldThatFitsNowhereItsOwnName) {
  const std::vector<MeantHold> meant{{74, 0}, {74, 0}, {84, 0}, {76, 0}, {76, 0}, {78, 0}, {78, 0}};
  const Naming naming = name_holds(holds_of(meant), ordered("D5 E5 F#5"), {440});
  EXPECT_EQ(midi_of_named(naming), midi_of_meant(meant));
}

/// Three notes of a run are said, the whole octave is played: the rest keep their own names, and it is said.
TEST(Order, OfFewerNotesThanWerePlayedNamesNoOtherAfterThem) {
  std::vector<MeantHold> meant;
  for (const int midi : {74, 76, 78, 79, 81, 83, 85, 86})
    for (const double cents : {-8.0, 5.0, 12.0}) meant.push_back({midi, cents});
  const Naming naming = name_holds(holds_of(meant), ordered("D5 E5 F#5"), {440});
  EXPECT_EQ(midi_of_named(naming), midi_of_meant(meant));
  EXPECT_EQ(warning_text(naming, WarningCode::not_in_order),
            "G5, A5, B5, C#6, D6 were heard but are not in --order. Give --order every note that you played, in turn.");
  const Naming all = name_holds(holds_of(meant), ordered("D5 E5 F#5 G5 A5 B5 C#6 D6"), {440});
  EXPECT_FALSE(has_warning(all, WarningCode::not_in_order));
}

TEST(Order, BringsANoteBackThatIsThreeQuartersOfASemitoneOff) {
  std::vector<MeantHold> meant;
  for (const int midi : {74, 76, 78, 79, 81, 83, 84, 86})
    for (const double cents : {-8.0, 5.0, 12.0}) meant.push_back({midi, midi == 84 ? cents + 70 : cents});
  const Naming naming = name_holds(holds_of(meant), ordered("D5 E5 F#5 G5 A5 B5 C6 D6"), {440});
  EXPECT_EQ(midi_of_named(naming), midi_of_meant(meant));
}

TEST(Order, UpAndDownAgainAsTheProtocolHasItNamesEveryHold) {
  Instrument instrument = builtin_instrument(Kind::whistle, 74);
  instrument.scale.resize(9);
  ScaleNote vented = instrument.scale.back();
  vented.id.fingering = "vented";
  instrument.scale.push_back(vented);
  const Protocol protocol = protocol_of(instrument, false);
  std::vector<MeantHold> meant;
  std::vector<std::string> fingerings;
  for (const ProtocolStep& step : protocol.steps)
    for (const double cents : {-12.0, 0.0, 10.0}) {
      meant.push_back({step.note.midi, 20.0 + cents});  // the whole flute is sharp
      fingerings.push_back(step.note.fingering);
    }
  const Naming naming = name_holds(holds_of(meant), ordered(order_of(protocol)), {440});
  EXPECT_EQ(midi_of_named(naming), midi_of_meant(meant));
  EXPECT_EQ(fingerings_of(naming), fingerings);
}

TEST(ParseOrder, ReadsNotesWithFingeringsAndRefusesTheRestInWords) {
  const auto order = parse_order(" D5, F#5  D6:vented\n", NoteNames::english);
  ASSERT_EQ(order.size(), 3U);
  EXPECT_EQ(order[1].midi, 78);
  EXPECT_EQ(order[2].fingering, "vented");
  EXPECT_EQ(parse_order("H4 B4", NoteNames::german)[0].midi, 71);
  for (const char* wrong : {"", " , ", "D", "D5 X5", "D5:", "H5"})
    EXPECT_THROW(parse_order(wrong, NoteNames::english), Error) << wrong;
}

TEST(PartOfScale, IsSaidWhereFewOfItsNotesWerePlayed) {
  const auto naming_of = [](const std::vector<int>& played) {
    std::vector<MeantHold> meant;
    for (const int midi : played) meant.push_back({midi, 0});
    return name_holds(holds_of(meant), told(Kind::whistle, "D5"), {440});
  };
  EXPECT_NE(warning_text(naming_of({74, 79, 83}), WarningCode::part_of_scale).find("only 3 of this whistle's"),
            std::string::npos);
  EXPECT_TRUE(has_warning(naming_of({74, 78, 81, 85, 88, 91, 95}), WarningCode::part_of_scale));
  EXPECT_FALSE(has_warning(naming_of({74, 76, 78, 79, 81, 83, 85, 86, 88, 90, 91}), WarningCode::part_of_scale));
}

TEST(NotHeard, IsSaidOfANoteThatTheScaleMakesPlainThoughNoOrderWasSaid) {
  std::vector<MeantHold> meant;
  for (const int midi : {74, 76, 78, 79, 81, 85, 86, 88}) meant.push_back({midi, 0});  // B5 is missing
  const Naming naming = name_holds(holds_of(meant), told(Kind::whistle, "D5"), {440});
  EXPECT_NE(warning_text(naming, WarningCode::not_heard).find("B5 (between A5 and C#6) was not heard"),
            std::string::npos);
  meant.insert(meant.begin() + 5, {83, 0});
  EXPECT_FALSE(has_warning(name_holds(holds_of(meant), told(Kind::whistle, "D5"), {440}), WarningCode::not_heard));
  std::vector<MeantHold> thirds;
  for (const int midi : {74, 78, 81, 85, 88}) thirds.push_back({midi, 0});  // nobody left these out by mistake
  EXPECT_FALSE(has_warning(name_holds(holds_of(thirds), told(Kind::whistle, "D5"), {440}), WarningCode::not_heard));
}

}  // namespace
}  // namespace windway
