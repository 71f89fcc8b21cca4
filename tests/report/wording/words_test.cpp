// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/wording/words.hpp"

#include <gtest/gtest.h>

namespace windway {
namespace {

MovedNote note_to_blow(BreathAdvice breath, double cents, std::optional<double> share) {
  MovedNote note;
  note.breath = breath;
  note.cents = cents;
  note.breath_share = share;
  return note;
}

TEST(ShareInWords, TakesTheNearestFractionThatPeopleName) {
  EXPECT_EQ(share_in_words(0.26), "a quarter of the way");
  EXPECT_EQ(share_in_words(0.48), "halfway");
  EXPECT_EQ(share_in_words(0.97), "all the way");
  EXPECT_EQ(share_in_words(0.05), "a little of the way");
}

TEST(BeatsInWords, SaysSlowBeatsBySecondsAndFastOnesByCount) {
  EXPECT_EQ(beats_in_words(0.31), "one beat in 3 s");
  EXPECT_EQ(beats_in_words(0.98), "one beat a second");
  EXPECT_EQ(beats_in_words(0.7), "one beat a second");
  EXPECT_EQ(beats_in_words(1.5), "three beats in 2 s");
  EXPECT_EQ(beats_in_words(2.2), "2 beats a second");
  EXPECT_EQ(beats_in_words(0.0), "no beat that you can hear");
}

TEST(TargetsInWords, SaysWhichNotesAreMeantOffTheTemperament) {
  const auto spelt = [](const NoteId& note) { return "N" + std::to_string(note.midi) + note.fingering; };
  const auto said = [&](double stretch, const std::vector<NoteTarget>& targets) {
    return targets_in_words(stretch, targets, spelt);
  };
  EXPECT_EQ(said(0, {}), "");
  EXPECT_EQ(said(0, {{{79}, -8}}), "The instrument file wants N79 8 cents flat.");
  EXPECT_EQ(said(0, {{{79}, -8}, {{86, "x"}, 1}, {{98}, 5.5}}),
            "The instrument file wants N79 8 cents flat, N86x 1 cent sharp and N98 5.5 cents sharp.");
  EXPECT_EQ(said(4, {}), "The instrument file wants octaves 4 cents wider than pure, evenly from the lowest note up.");
  EXPECT_EQ(said(-1, {{{79}, -8}}),
            "The instrument file wants octaves 1 cent narrower than pure, evenly from the lowest note up; also N79 "
            "8 cents flat.");
}

TEST(BreathInWords, SaysWhichWayAndHowFar) {
  EXPECT_EQ(breath_in_words(note_to_blow(BreathAdvice::as_it_is, 0.9, std::nullopt)), "as it is");
  EXPECT_EQ(breath_in_words(note_to_blow(BreathAdvice::softer, 4.1, 0.26)), "softer, a quarter of the way to soft");
  EXPECT_EQ(breath_in_words(note_to_blow(BreathAdvice::harder, -4.1, 0.5)), "harder, halfway to hard");
}

TEST(BreathInWords, SaysOnlyWhichWayWhereTheShareIsUnknown) {
  EXPECT_EQ(breath_in_words(note_to_blow(BreathAdvice::softer, 4.1, std::nullopt)), "softer");
}

TEST(BreathInWords, SaysWhatDoesNotReachATargetOutOfReach) {
  EXPECT_EQ(breath_in_words(note_to_blow(BreathAdvice::out_of_reach, 20, std::nullopt)),
            "out of reach, even blown soft");
  EXPECT_EQ(breath_in_words(note_to_blow(BreathAdvice::out_of_reach, -20, std::nullopt)),
            "out of reach, even blown hard");
}

TEST(BreathInShort, FitsANarrowColumn) {
  EXPECT_EQ(breath_in_short(note_to_blow(BreathAdvice::as_it_is, 0.9, std::nullopt)), "as it is");
  EXPECT_EQ(breath_in_short(note_to_blow(BreathAdvice::softer, 4.1, 0.26)), "softer, 1/4 way");
  EXPECT_EQ(breath_in_short(note_to_blow(BreathAdvice::softer, 4.1, 0.35)), "softer, 1/3 way");
  EXPECT_EQ(breath_in_short(note_to_blow(BreathAdvice::harder, -4.1, 0.5)), "harder, halfway");
  EXPECT_EQ(breath_in_short(note_to_blow(BreathAdvice::harder, -4.1, 0.98)), "harder, fully");
  EXPECT_EQ(breath_in_short(note_to_blow(BreathAdvice::harder, -4.1, std::nullopt)), "harder");
  EXPECT_EQ(breath_in_short(note_to_blow(BreathAdvice::out_of_reach, 20, std::nullopt)), "out of reach");
}

TEST(SizeInWords, SaysHowMuchAndHowSurely) {
  EXPECT_EQ(size_in_words({-7.93, 0.4}), "7.9 cents (± 0.4)");
  EXPECT_EQ(size_in_words({1.2, 2.0}), "1 cent (± 2)");
  EXPECT_EQ(size_in_words({1.02, 0.4}), "1.0 cents (± 0.4)");
}

TEST(DeviationInWords, CarriesNoMorePlacesThanItsUncertaintyDeserves) {
  EXPECT_EQ(deviation_in_words(0.93, 0.2), "0.9 cents sharp");
  EXPECT_EQ(deviation_in_words(-12.4, 2.0), "12 cents flat");
  EXPECT_EQ(deviation_in_words(0.96, 1.0), "1 cent sharp");
  EXPECT_EQ(deviation_in_words(-0.03, 0.2), "right in tune");
}

TEST(BreathOverScale, ListsFewNotesAndCountsMany) {
  std::vector<MovedNote> notes(8, note_to_blow(BreathAdvice::as_it_is, 0, std::nullopt));
  const std::vector<std::string> names{"D5", "E5", "F#5", "G5", "A5", "B5", "C#6", "D6"};
  const std::string as_said = "as the table says";
  EXPECT_EQ(breath_over_scale(notes, names, as_said), "Blow every note as you did.");
  const std::vector<MovedNote> lost(8, note_to_blow(BreathAdvice::out_of_reach, -50, std::nullopt));
  EXPECT_EQ(breath_over_scale(lost, names, as_said), "The breath cannot bring any note into tune.");
  notes[1] = notes[4] = note_to_blow(BreathAdvice::softer, 5, 0.5);
  EXPECT_EQ(breath_over_scale(notes, names, as_said), "Blow softer on E5 and A5, as the table says.");
  notes[2] = note_to_blow(BreathAdvice::harder, -5, 0.5);
  notes[3] = note_to_blow(BreathAdvice::out_of_reach, -50, std::nullopt);
  EXPECT_EQ(breath_over_scale(notes, names, as_said),
            "Blow softer on E5 and A5 and harder on F#5, as the table says. The breath cannot bring G5 into tune.");
  for (std::size_t note = 0; note < 7; ++note) notes[note] = note_to_blow(BreathAdvice::softer, 5, 0.5);
  EXPECT_EQ(breath_over_scale(notes, names, as_said), "Blow softer on 7 of the 8 notes, as the table says.");
}

TEST(ListInWords, EndsWithAnd) {
  EXPECT_EQ(list_in_words({"D5", "E5", "G5"}), "D5, E5 and G5");
  EXPECT_EQ(list_in_words({"D5"}), "D5");
}

TEST(Capitalised, BeginsWithACapitalLetter) {
  EXPECT_EQ(capitalised("whistle in D"), "Whistle in D");
  EXPECT_EQ(capitalised("440 Hz"), "440 Hz");
  EXPECT_EQ(capitalised(""), "");
}

}  // namespace
}  // namespace windway
