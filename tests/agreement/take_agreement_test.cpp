// SPDX-License-Identifier: GPL-3.0-or-later
#include "agreement/take_agreement.hpp"

#include <gtest/gtest.h>

#include "agreement/agreement_warnings.hpp"
#include "agreement/invented_takes.hpp"
#include "support/text.hpp"

namespace windway {
namespace {

using test::drawn_out_by;
using test::invented_take;

constexpr double sound_at_25_c_m_s = 346.2677;

TakeAgreement agreement_of(const std::vector<TakeNotes>& takes) {
  return take_agreement(takes, sound_at_25_c_m_s, std::nullopt, {1.0, 0.05}).value();
}

test::OffOfNote all_by(double cents) {
  return [cents](const NoteBreath&, std::size_t) { return cents; };
}

std::string message_of(const TakeAgreement& agreement) {
  Instrument instrument = builtin_instrument(Kind::whistle, 74);
  const Warnings warnings = agreement_warnings(agreement, {{"a.wav", "b.wav", "c.wav"}, instrument, {}, {}});
  return warnings.empty() ? "" : warnings.front().message;
}

TEST(TakeAgreement, OfTakesThatDifferAsAPlayersWarmthDoesIsSaidWithItsFigure) {
  const TakeAgreement found =
      agreement_of({invented_take(0, all_by(0)), invented_take(1, all_by(0.6)), invented_take(2, all_by(-0.3))});
  EXPECT_TRUE(found.agree);
  EXPECT_NEAR(found.apart.cents, 0.9, found.apart.u95_cents);
  EXPECT_LT(found.apart.u95_cents, 0.6);  // ten notes that come back within half a cent (SD)
  EXPECT_GT(found.note_u95_cents, 0.2);
  EXPECT_LT(found.note_u95_cents, 1.0);
  EXPECT_GT(found.pooled_u95_cents, 0.2);  // three takes with an SD of 0.46
  EXPECT_TRUE(message_of(found).empty());
}

TEST(TakeAgreement, HoldsThoughNotesComeBackLessSurelyThanTheyAreMeasured) {
  int doubted = 0;
  for (int pair = 0; pair < 100; ++pair) {
    std::vector<TakeNotes> takes{invented_take(2 * pair, all_by(0), 0.5), invented_take(2 * pair + 1, all_by(0), 0.5)};
    for (TakeNotes& take : takes)
      for (NoteBreath& note : take.notes) note.moderate.u95_cents = 0.05;
    doubted += agreement_of(takes).agree ? 0 : 1;
  }
  EXPECT_LE(doubted, 4);  // 1 in 100 is meant
}

TEST(TakeAgreement, OfAWarmerFluteFailsAndNamesWarmthAlone) {
  const TakeAgreement found = agreement_of({invented_take(0, all_by(0)), invented_take(1, all_by(3))});
  EXPECT_FALSE(found.agree);
  EXPECT_TRUE(found.as_warmth);
  EXPECT_FALSE(found.as_head || found.as_breath || found.notes_scatter);
  EXPECT_NEAR(found.takes[1].above_first.cents, 3.0, found.takes[1].above_first.u95_cents);
  const std::string message = message_of(found);
  EXPECT_TRUE(has(message, "b.wav is 3.")) << message;
  EXPECT_TRUE(has(message, "sharper")) << message;
  EXPECT_TRUE(has(message, "degrees C warmer.")) << message;
  EXPECT_FALSE(has(message, "further in")) << message;
}

TEST(TakeAgreement, OfAMovedHeadFailsAndNamesTheHeadAlone) {
  const TakeAgreement found = agreement_of({invented_take(0, all_by(0)), invented_take(1, drawn_out_by(1.0))});
  EXPECT_FALSE(found.agree);
  EXPECT_TRUE(found.as_head);
  EXPECT_FALSE(found.as_warmth || found.as_breath || found.notes_scatter);
  EXPECT_NEAR(found.takes[1].head_out_mm, 1.0, 0.1);
  EXPECT_TRUE(has(message_of(found), "its head stood 1.0 mm further out.")) << message_of(found);
}

TEST(TakeAgreement, OfHarderBlowingNamesTheBreath) {
  const auto harder = [](const NoteBreath& note, std::size_t) { return 0.12 * note.spread->cents; };
  const TakeAgreement found = agreement_of({invented_take(0, all_by(0)), invented_take(1, harder)});
  EXPECT_FALSE(found.agree);
  EXPECT_TRUE(found.as_breath);
  EXPECT_FALSE(found.as_warmth || found.as_head);
  EXPECT_TRUE(has(message_of(found), "it was blown harder"));
}

/// Two notes of nearly one length cannot tell the head from warmth.
TEST(TakeAgreement, NamesBothExplanationsWhereBothFit) {
  std::vector<TakeNotes> takes{invented_take(0, all_by(0)), invented_take(1, all_by(6))};
  for (TakeNotes& take : takes) {
    take.notes.resize(2);
    for (NoteBreath& note : take.notes) note.spread.reset();
  }
  const TakeAgreement found = agreement_of(takes);
  EXPECT_FALSE(found.agree);
  EXPECT_TRUE(found.as_warmth && found.as_head);
  EXPECT_TRUE(has(message_of(found), " or its head stood ")) << message_of(found);
  EXPECT_TRUE(has(message_of(found), "cannot tell which")) << message_of(found);
}

TEST(TakeAgreement, OfHeadAndWarmthTogetherNamesNoSingleCause) {
  const auto both = [](const NoteBreath& note, std::size_t at) { return 12.0 + drawn_out_by(2.0)(note, at); };
  const TakeAgreement found = agreement_of({invented_take(0, all_by(0)), invented_take(1, both)});
  EXPECT_FALSE(found.agree);
  EXPECT_FALSE(found.as_warmth || found.as_head || found.as_breath);
  EXPECT_TRUE(has(message_of(found), "No single cause explains it"));
}

TEST(TakeAgreement, FailsWhereOnlyTheAverageAgrees) {
  const auto both = [](const NoteBreath& note, std::size_t at) { return 16.6 + drawn_out_by(2.0)(note, at); };
  const TakeAgreement found = agreement_of({invented_take(0, all_by(0)), invented_take(1, both)});
  EXPECT_NEAR(found.apart.cents, 0.0, found.apart.u95_cents);
  EXPECT_FALSE(found.agree);
  EXPECT_TRUE(has(message_of(found), "on average they are equal, but single notes are not")) << message_of(found);
}

TEST(TakeAgreement, HoldsButForANoteThatStandsOut) {
  const auto one_off = [](const NoteBreath&, std::size_t at) { return at == 3 ? 8.0 : 0.0; };
  const TakeAgreement found =
      agreement_of({invented_take(0, all_by(0)), invented_take(1, one_off), invented_take(2, all_by(0))});
  EXPECT_TRUE(found.agree);
  ASSERT_EQ(found.notes.size(), 1U);
  EXPECT_EQ(found.notes[0].note, NoteId{79});
  EXPECT_EQ(found.notes[0].take, 1);
  EXPECT_NEAR(found.notes[0].off.cents, 8.0, 1.0);
  EXPECT_LT(found.apart.cents, 0.5);
  EXPECT_TRUE(has(message_of(found), " sharper in b.wav than the other notes suggest")) << message_of(found);
}

TEST(TakeAgreement, OfAnotherFluteFailsForItsNotesScatter) {
  const auto other = [](const NoteBreath&, std::size_t at) {
    return at % 2 == 0 ? 4.0 : -4.0 + static_cast<double>(at % 3);
  };
  const TakeAgreement found = agreement_of({invented_take(0, all_by(0)), invented_take(1, other)});
  EXPECT_FALSE(found.agree);
  EXPECT_TRUE(found.notes_scatter);
  EXPECT_TRUE(has(message_of(found), "one flute"));
}

TEST(TakeAgreement, IsAbsentWhereNoNoteIsInTwoTakesAndLeavesOutATakeThatSharesNone) {
  TakeNotes low = invented_take(0, all_by(0)), high = invented_take(1, all_by(0));
  low.notes.resize(5);
  high.notes.erase(high.notes.begin(), high.notes.begin() + 5);
  EXPECT_FALSE(take_agreement({low, high}, sound_at_25_c_m_s, std::nullopt, {}));
  TakeNotes low_again = low;
  low_again.take = 2;
  const TakeAgreement found = agreement_of({low, high, low_again});
  EXPECT_TRUE(found.agree);
  EXPECT_EQ(found.left_out, std::vector{1});
  EXPECT_EQ(found.takes.size(), 2U);
  EXPECT_TRUE(has(message_of(found), "b.wav shares no note"));
}

TEST(TakeAgreement, AllowsForADriftThatWasCorrectedWithDoubt) {
  std::vector<TakeNotes> takes{invented_take(0, all_by(0)), invented_take(1, all_by(3))};
  takes[0].drift = Drift{9.0, 4.0, 60.0};  // half of 4 cents is common to its notes
  EXPECT_TRUE(agreement_of(takes).agree);
}

}  // namespace
}  // namespace windway
