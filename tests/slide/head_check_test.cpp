// SPDX-License-Identifier: GPL-3.0-or-later
#include "slide/head_check.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "flutes.hpp"
#include "support/random.hpp"

namespace windway {
namespace {

using test::even_scale;
using test::one_blow_note;
using test::sound_25_m_s;

struct Earlier {
  std::vector<NoteBreath> notes;
  Compromise compromise;
};

/// A scale 12 cents sharp whose notes answer with 1.5 cents a dB.
Earlier earlier(const Head& head = {}) {
  Earlier take{even_scale(74, 12.0), {}};
  for (NoteBreath& note : take.notes) note.cents_per_db = CentsEstimate{1.5, 0.1};
  take.compromise = find_compromise(take.notes, head, 440.0, sound_25_m_s, 0.4);
  return take;
}

/// D5 as it reads with the head so far from where it was, blown once.
std::vector<NoteBreath> d5_after(const Earlier& take, double moved_mm) {
  const double length_mm = take.compromise.notes[0].effective_length_mm;
  NoteBreath note = one_blow_note(74, 12.0 - cents_per_neper * std::log1p(moved_mm / length_mm));
  note.moderate.u95_cents = 0.05;
  note.holds = 1;
  return {note};
}

std::optional<HeadCheck> checked(const Earlier& take, double moved_mm, const Head& head = {}) {
  return check_head(take.notes, take.compromise, head, d5_after(take, moved_mm), 0.4);
}

TEST(HeadCheck, OfOneNoteGivesTheRestOfTheMove) {
  const Earlier take = earlier();
  for (const double left_mm : {0.7, -0.7, 1.4}) {
    const auto check = checked(take, take.compromise.slide_mm - left_mm);
    ASSERT_TRUE(check);
    EXPECT_FALSE(check->is_set);
    EXPECT_NEAR(check->rest_mm, left_mm, 1e-6);
    // 0.4 dB of 1.5 cents a dB, 0.6 cents of warmth, 5.9 cents a mm; the law to 5 %.
    EXPECT_NEAR(check->rest_u95_mm, std::hypot(1.96 * std::hypot(0.4 * 1.5, 0.6) / 5.87, 0.05 * left_mm), 0.01);
    EXPECT_FALSE(check->went_the_other_way);
  }
}

TEST(HeadCheck, IsSetWhereTheRestIsLessThanAHandCanSet) {
  const Earlier take = earlier();
  EXPECT_TRUE(checked(take, take.compromise.slide_mm)->is_set);
  EXPECT_TRUE(checked(take, take.compromise.slide_mm - 0.2)->is_set);  // within its u95
  EXPECT_FALSE(checked(take, take.compromise.slide_mm - 0.35)->is_set);
}

TEST(HeadCheck, SaysWhereThePitchWentTheOtherWay) {
  const auto check = checked(earlier(), -1.0);
  EXPECT_TRUE(check->went_the_other_way);
  EXPECT_FALSE(checked(earlier(), 1.0)->went_the_other_way);
}

TEST(HeadCheck, AsksForNoMoreThanThereIs) {
  const Head head{true, 0.0, 1.0};
  const Earlier take = earlier(head);
  ASSERT_EQ(take.compromise.limit, SlideLimit::travel);
  const auto check = checked(take, 0.4, head);
  EXPECT_NEAR(check->rest_mm, 0.6, 1e-6);  // to the end of the travel, which is what the notes were to read
  EXPECT_EQ(check->limit, SlideLimit::travel);
  // Warmer since: the note would need more than is left.
  Earlier warmer = take;
  auto later = d5_after(warmer, 1.0);
  later[0].moderate.cents += 5.0;
  const auto stopped = check_head(warmer.notes, warmer.compromise, head, later, 0.4);
  EXPECT_EQ(stopped->limit, SlideLimit::travel);
}

TEST(HeadCheck, OfANoteNotHeardBeforeIsNone) {
  const Earlier take = earlier();
  EXPECT_FALSE(check_head(take.notes, take.compromise, {}, {one_blow_note(75, 0.0)}, {}));
}

TEST(HeadCheck, OfANoteNearerToAnotherIsNamedAsWhatWasHeard) {
  const Earlier take = earlier();
  std::vector<NoteBreath> later = d5_after(take, take.compromise.slide_mm);
  NoteBreath f_for_f_sharp = one_blow_note(78, take.compromise.notes[2].cents - 90.0);
  ASSERT_EQ(take.notes[2].id.midi, 78);
  const auto alone = check_head(take.notes, take.compromise, {}, {f_for_f_sharp}, 0.4);
  ASSERT_TRUE(alone);
  EXPECT_TRUE(alone->notes.empty());
  ASSERT_EQ(alone->unexpected.size(), 1U);
  EXPECT_EQ(alone->unexpected[0].heard_midi, 77);
  EXPECT_NEAR(alone->unexpected[0].off_cents, -90.0, 1e-9);
  EXPECT_FALSE(alone->is_set);
  later.push_back(f_for_f_sharp);
  const auto beside_another = check_head(take.notes, take.compromise, {}, later, 0.4);
  ASSERT_TRUE(beside_another);
  EXPECT_EQ(beside_another->notes.size(), 1U);
  EXPECT_EQ(beside_another->unexpected.size(), 1U);
  EXPECT_TRUE(beside_another->is_set);
}

TEST(HeadCheck, OfAHeadThatWasNotMovedYetIsExpectedHoweverFarTheMoveIs) {
  Earlier take{even_scale(74, 60.0), {}};
  take.compromise = find_compromise(take.notes, {}, 440.0, sound_25_m_s, 0.4);
  const auto check = check_head(take.notes, take.compromise, {}, {one_blow_note(74, 60.0)}, 0.4);
  ASSERT_TRUE(check);
  EXPECT_TRUE(check->unexpected.empty());
  EXPECT_NEAR(check->rest_mm, take.compromise.slide_mm, 0.1);
}

TEST(HeadCheck, OfSeveralNotesIsSurerThanOfOne) {
  const Earlier take = earlier();
  std::vector<NoteBreath> later = d5_after(take, 1.0);
  for (std::size_t i = 1; i < take.notes.size(); ++i) {
    later.push_back(later.front());
    later.back().id.midi = take.notes[i].id.midi;
    later.back().moderate.cents =
        12.0 - cents_per_neper * std::log1p(1.0 / take.compromise.notes[i].effective_length_mm);
  }
  const auto check = check_head(take.notes, take.compromise, {}, later, 0.4);
  // The blows average out; the flute's warmth and the law, 5 % of 0.4 mm, are those of all notes.
  const double common_mm = std::hypot(1.96 * 0.6 / 8.0, 0.05 * check->rest_mm);  // 6 to 12 cents a mm
  EXPECT_LT(check->rest_u95_mm, 0.85 * checked(take, 1.0)->rest_u95_mm);
  EXPECT_GT(check->rest_u95_mm, 0.7 * common_mm);
  EXPECT_NEAR(check->rest_mm, take.compromise.slide_mm - 1.0, 0.02);
}

TEST(HeadCheck, OfAFluteThatHasBeenCalibratedIsAsSureAsItsFactor) {
  const Head head{true, {}, {}, SlideFactor{1.0, 0.01}};
  const Earlier take = earlier(head), law = earlier();
  const double left_mm = 4.0;
  const auto calibrated = checked(take, take.compromise.slide_mm - left_mm, head);
  const auto uncalibrated = checked(law, law.compromise.slide_mm - left_mm);
  const double shared = std::pow(uncalibrated->rest_u95_mm, 2) - std::pow(0.05 * left_mm, 2);
  EXPECT_NEAR(std::pow(calibrated->rest_u95_mm, 2) - std::pow(0.01 * left_mm, 2), shared, 1e-6);
}

TEST(HeadCheck, HasTheTruthInItsIntervalThoughTheFluteIsNotQuiteAsWarm) {
  // Blows 0.4 dB apart (SD), the whole flute 0.6 cents: what no number of notes averages out.
  const Earlier take = earlier();
  synthesis::Random random(5);
  int held = 0;
  constexpr int checks = 1000;
  for (int i = 0; i < checks; ++i) {
    const double left_mm = random.uniform(-1.0, 1.0), warmth_cents = random.normal(0.0, 0.6);
    std::vector<NoteBreath> later;
    for (std::size_t n = 0; n < take.notes.size(); ++n) {
      const double moved = (take.compromise.slide_mm - left_mm) / take.compromise.notes[n].effective_length_mm;
      const double blow_cents = 1.5 * random.normal(0.0, 0.4);
      later.push_back(
          one_blow_note(take.notes[n].id.midi, 12.0 - cents_per_neper * std::log1p(moved) + warmth_cents + blow_cents));
    }
    const auto check = check_head(take.notes, take.compromise, {}, later, 0.4);
    held += std::abs(check->rest_mm - left_mm) <= check->rest_u95_mm ? 1 : 0;
  }
  EXPECT_GE(held, 930);
  EXPECT_LE(held, 980);
}

TEST(HeadCheck, SaysWhereTheNotesCannotBeOfTheSameFlute) {
  const Earlier take = earlier();
  std::vector<NoteBreath> later = d5_after(take, 1.0);
  later.push_back(later.front());
  later.back().id.midi = take.notes[3].id.midi;
  later.back().moderate.cents += 25.0;
  const auto check = check_head(take.notes, take.compromise, {}, later, 0.4);
  EXPECT_TRUE(check->notes_disagree);
  EXPECT_GT(check->rest_u95_mm, 1.0);
  EXPECT_FALSE(check->is_set);
  EXPECT_FALSE(checked(take, 1.0)->notes_disagree);
}

}  // namespace
}  // namespace windway
