// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <cmath>

#include "flutes.hpp"
#include "slide/slide.hpp"

namespace windway {
namespace {

using test::even_scale;
using test::sound_25_m_s;

Compromise with_factor(const Head& head) {
  return find_compromise(even_scale(74, 12.0), head, 440.0, sound_25_m_s, {});
}

TEST(SlideFactor, ThatMakesEachMillimetreDoLessAsksForMore) {
  const Compromise as_the_law_says = with_factor({});
  const Compromise calibrated = with_factor({true, {}, {}, SlideFactor{0.9, 0.018}});
  EXPECT_NEAR(calibrated.slide_mm / as_the_law_says.slide_mm, 1.0 / 0.9, 2e-3);
  EXPECT_NEAR(calibrated.shift_cents, as_the_law_says.shift_cents, 0.02);
  EXPECT_NEAR(calibrated.notes[0].cents_per_mm, 0.9 * as_the_law_says.notes[0].cents_per_mm, 1e-9);
}

TEST(SlideFactor, ReplacesTheFivePerCentThatTheLawIsGoodTo) {
  const Compromise as_the_law_says = with_factor({});
  EXPECT_NEAR(as_the_law_says.slide_model_u95_mm, 0.05 * as_the_law_says.slide_mm, 1e-12);
  const Compromise calibrated = with_factor({true, {}, {}, SlideFactor{0.9, 0.018}});
  EXPECT_NEAR(calibrated.slide_model_u95_mm, 0.02 * calibrated.slide_mm, 1e-12);
}

TEST(RangeOfA4, IsKnownOnlyAsFarAsTheTravelIs) {
  EXPECT_FALSE(with_factor({}).highest_a4_hz);
  EXPECT_FALSE(with_factor({true, 1.0, {}}).lowest_a4_hz);
  const Compromise known = with_factor({true, 1.0, 8.0});
  ASSERT_TRUE(known.highest_a4_hz && known.lowest_a4_hz);
  EXPECT_NEAR(with_factor({true, 1.0, {}}).highest_a4_hz.value_or(0), *known.highest_a4_hz, 1e-9);
  EXPECT_GT(*known.highest_a4_hz, known.home_a4_hz);
  EXPECT_LT(*known.lowest_a4_hz, known.home_a4_hz);
}

TEST(RangeOfA4, HasAtItsEndsTheA4ThatIsAtHomeThere) {
  const Compromise known = with_factor({true, 1.0, 8.0});
  // The same flute played with its head at the end of the travel.
  std::vector<NoteBreath> notes = even_scale(74, 12.0);
  for (std::size_t i = 0; i < notes.size(); ++i) {
    const double change_cents = -cents_per_neper * std::log1p(7.0 / known.notes[i].effective_length_mm);
    for (auto* estimate : {&*notes[i].soft, &notes[i].moderate, &*notes[i].hard}) estimate->cents += change_cents;
  }
  EXPECT_NEAR(find_compromise(notes, {}, 440.0, sound_25_m_s, {}).home_a4_hz, *known.lowest_a4_hz, 1e-6);
}

TEST(DoubtfulReference, WidensTheSlideByWhatItIsInMillimetres) {
  const Compromise sure = with_factor({});
  const Compromise doubtful = with_doubtful_reference(sure, 2.0);
  double cents_per_mm = 0;
  for (const MovedNote& note : sure.notes) cents_per_mm += note.cents_per_mm / 14.0;
  EXPECT_NEAR(doubtful.slide_u95_mm, 2.0 / cents_per_mm, 0.01);  // the notes themselves are sure
  EXPECT_NEAR(doubtful.shift_u95_cents, 2.0, 0.01);
  EXPECT_EQ(doubtful.slide_mm, sure.slide_mm);
}

TEST(CheckNote, IsNeverANoteThatMayNotCheck) {
  std::vector<NoteBreath> notes = even_scale(74, 5.0);
  const auto check_midi = [&] { return find_compromise(notes, {}, 440.0, sound_25_m_s, {}).check_note.id.midi; };
  const int best = check_midi();
  for (NoteBreath& note : notes) note.can_check = note.id.midi != best;
  EXPECT_NE(check_midi(), best);
}

}  // namespace
}  // namespace windway
