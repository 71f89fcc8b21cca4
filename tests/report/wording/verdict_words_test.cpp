// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/wording/verdict_words.hpp"

#include <gtest/gtest.h>

namespace windway {
namespace {

std::string words(Criterion criterion, VerdictResult result, double value, double u95 = 0.4) {
  Judged judged;
  judged.criterion = criterion;
  judged.result = result;
  if (criterion == Criterion::note || criterion == Criterion::spread) judged.note = NoteId{78};
  judged.value = value;
  judged.u95 = u95;
  judged.lower = criterion == Criterion::head_place ? 2.0 : -15.0;
  judged.upper = criterion == Criterion::head_place ? 8.0 : 15.0;
  return reason_in_words(judged, builtin_instrument(Kind::whistle, 74));
}

constexpr auto fail = VerdictResult::fail;
constexpr auto close_call = VerdictResult::too_close;

TEST(ReasonInWords, SaysHowFarOffWhichWayAndWhatIsAllowed) {
  EXPECT_EQ(words(Criterion::note, fail, 21.34),
            "F#5 is 21.3 cents sharp (± 0.4) with the head at its best place; tolerance 15");
  EXPECT_EQ(words(Criterion::note, fail, -21.34, 3),
            "F#5 is 21 cents flat (± 3) with the head at its best place; tolerance 15");
  EXPECT_EQ(words(Criterion::spread, fail, 40), "F#5 moves 40.0 cents (± 0.4) from soft to hard; at most 15");
  EXPECT_EQ(words(Criterion::octave, fail, 20), "the octave is 20.0 cents too wide (± 0.4); at most 15");
  EXPECT_EQ(words(Criterion::octave, fail, -20), "the octave is 20.0 cents too narrow (± 0.4); at most 15");
}

TEST(ReasonInWords, SaysToRecordAgainWhatIsTooCloseToCall) {
  EXPECT_EQ(words(Criterion::note, close_call, 14.9),
            "F#5 is 14.9 cents sharp (± 0.4) with the head at its best place, too close to call (tolerance 15): record "
            "again");
  EXPECT_EQ(words(Criterion::head_place, close_call, 7.9),
            "its head's best place is 7.9 mm out (± 0.4), too close to call (2 to 8 mm allowed): record again");
}

TEST(ReasonInWords, SaysOfTheHeadInMmAndWhatThatMeansForTheBody) {
  EXPECT_EQ(words(Criterion::head_place, fail, 1),
            "its head's best place is 1.0 mm out (± 0.4); 2 to 8 mm allowed: the body is too long");
  EXPECT_EQ(words(Criterion::head_place, fail, 9),
            "its head's best place is 9.0 mm out (± 0.4); 2 to 8 mm allowed: the body is too short");
  EXPECT_EQ(words(Criterion::reach_of_a4, fail, -20),
            "fully in it is still 20.0 cents flat (± 0.4); tolerance 15, the body is too long");
  EXPECT_EQ(words(Criterion::reach_of_a4, fail, 20),
            "drawn out as far as it goes it is still 20.0 cents sharp (± 0.4); tolerance 15, the body is too short");
}

TEST(ReasonInWords, NamesTheNoteThatCouldNotBeJudgedAndSaysNothingOfWhatPassed) {
  Judged judged;
  judged.criterion = Criterion::heard;
  judged.note = NoteId{78};
  judged.why = "it was not held";
  EXPECT_EQ(reason_in_words(judged, builtin_instrument(Kind::whistle, 74)), "F#5: it was not held");
  judged.note->fingering = "vented";
  EXPECT_EQ(reason_in_words(judged, builtin_instrument(Kind::whistle, 74)), "F#5 vented: it was not held");
  judged.note.reset();
  EXPECT_EQ(reason_in_words(judged, {}), "it was not held");
  EXPECT_EQ(words(Criterion::note, VerdictResult::pass, 1), "");
}

EntryJudged kept(Criterion criterion, std::optional<double> lower, std::optional<double> upper) {
  EntryJudged each;
  each.judged.criterion = criterion;
  each.judged.result = VerdictResult::pass;
  each.judged.lower = lower;
  each.judged.upper = upper;
  return each;
}

TEST(CriteriaInWords, SayWhatWasJudgedAndByWhichLimits) {
  EXPECT_EQ(criteria_in_words({kept(Criterion::note, -12, 12), kept(Criterion::note, -12, 12),
                               kept(Criterion::spread, {}, 60), kept(Criterion::octave, -24, 24),
                               kept(Criterion::head_place, 2, 8), kept(Criterion::reach_of_a4, -12, 12)}),
            "2 notes within 12 cents, spread of 1 note at most 60 cents, the octaves within 24 cents, the head at 2 to "
            "8 mm out and A4 with the head at the end of its travel within 12 cents");
}

TEST(CriteriaInWords, SayNoLimitThatIsNotKnown) {
  EXPECT_EQ(criteria_in_words({kept(Criterion::note, -8, 8), kept(Criterion::note, -20, 20)}),
            "2 notes within 8 to 20 cents");
  EXPECT_EQ(criteria_in_words({kept(Criterion::note, -8, 8), kept(Criterion::note, {}, {})}), "2 notes");
  EXPECT_EQ(criteria_in_words({kept(Criterion::head_place, {}, {})}), "the place of the head");
  EXPECT_EQ(criteria_in_words({}), "");
}

}  // namespace
}  // namespace windway
