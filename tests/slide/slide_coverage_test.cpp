// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "flutes.hpp"
#include "slide/slide.hpp"

namespace windway {
namespace {

using test::FluteMaker;
using test::sound_25_m_s;

struct Coverage {
  double slide = 0;
  double shift = 0;
  double moved = 0;
};

/// Share of the stated 95 % intervals that hold the truth, over instruments measured with this noise.
Coverage coverage_of(std::uint64_t seed, double sd_cents, int instruments) {
  FluteMaker maker(seed);
  int slide = 0;
  int shift = 0;
  int moved = 0;
  int notes = 0;
  for (int i = 0; i < instruments; ++i) {
    const std::vector<NoteBreath> flute = maker.whistle(maker.uniform(-30, 30));
    const Compromise truth = find_compromise(flute, Head{}, 440.0, sound_25_m_s, {});
    const Compromise stated = find_compromise(maker.measured(flute, sd_cents), Head{}, 440.0, sound_25_m_s, {});
    slide += std::abs(stated.slide_mm - truth.slide_mm) <= stated.slide_u95_mm;
    shift += std::abs(stated.shift_cents - truth.shift_cents) <= stated.shift_u95_cents;
    for (std::size_t note = 0; note < flute.size(); ++note) {
      moved += std::abs(stated.notes[note].cents - truth.notes[note].cents) <= stated.notes[note].u95_cents;
      ++notes;
    }
  }
  return {static_cast<double>(slide) / instruments, static_cast<double>(shift) / instruments,
          static_cast<double>(moved) / notes};
}

TEST(SlideCoverageSlow, StatedIntervalsHoldTheTruthNineteenTimesInTwenty) {
  std::uint64_t seed = 11;
  for (const double sd_cents : {0.1, 0.5, 2.0}) {
    // Of 400 intervals of 95 %, 2.75 standard deviations: 92 to 98 %.
    const Coverage share = coverage_of(seed++, sd_cents, 400);
    EXPECT_GE(share.slide, 0.92) << sd_cents;
    EXPECT_LE(share.slide, 0.98) << sd_cents;
    EXPECT_GE(share.shift, 0.92) << sd_cents;
    EXPECT_LE(share.shift, 0.98) << sd_cents;
    EXPECT_GE(share.moved, 0.94) << sd_cents;
  }
}

TEST(SlideUncertainty, GrowsWithTheNoiseOfTheNotes) {
  FluteMaker maker(21);
  const std::vector<NoteBreath> flute = maker.whistle(10);
  const auto u95_mm = [&](double sd_cents) {
    return find_compromise(FluteMaker(22).measured(flute, sd_cents), Head{}, 440.0, sound_25_m_s, {}).slide_u95_mm;
  };
  EXPECT_GT(u95_mm(0.01), 0.0);
  EXPECT_NEAR(u95_mm(0.2) / u95_mm(0.02), 10.0, 2.5);
}

TEST(SlideUncertainty, IsThatOfAMeanForNotesAlike) {
  // 14 notes with the same reach and almost no error: the shift is close to their mean, so u95 / sqrt(14). Notes on
  // short tubes count more, which costs a few per cent.
  std::vector<NoteBreath> notes = test::even_scale(74, 0.01);
  for (NoteBreath& note : notes) note.moderate.u95_cents = 1.0;
  const Compromise compromise = find_compromise(notes, Head{}, 440.0, sound_25_m_s, {});
  EXPECT_NEAR(compromise.shift_u95_cents, 1.0 / std::sqrt(14.0), 0.15 / std::sqrt(14.0));
}

/// The slide when one note's soft, moderate or hard pitch is changed by this much, its reaches with it.
double slide_with_mm(std::vector<NoteBreath> notes, std::size_t note, std::array<double, 3> change_cents) {
  notes[note].moderate.cents += change_cents[1];
  *notes[note].reach_soft_cents += change_cents[1] - change_cents[0];
  *notes[note].reach_hard_cents += change_cents[2] - change_cents[1];
  return find_compromise(notes, Head{}, 440.0, sound_25_m_s, {}).slide_mm;
}

TEST(SlideUncertainty, OfSmallErrorsKeepsTheLawOfPropagation) {
  // JCGM 100:2008, 5.1.2: the squares of what each input makes of its own uncertainty add up.
  const std::vector<NoteBreath> notes =
      FluteMaker(24).measured({test::measured_note(74, -10, 10, 25), test::measured_note(78, -22, -9, 10)}, 0.1);
  double sum = 0;
  for (std::size_t note = 0; note < notes.size(); ++note) {
    for (std::size_t blow = 0; blow < 3; ++blow) {
      std::array<double, 3> up{};
      up[blow] = notes[note].moderate.u95_cents;
      std::array<double, 3> down{};
      down[blow] = -up[blow];
      sum += std::pow(0.5 * (slide_with_mm(notes, note, up) - slide_with_mm(notes, note, down)), 2);
    }
  }
  const Compromise compromise = find_compromise(notes, Head{}, 440.0, sound_25_m_s, {});
  EXPECT_NEAR(compromise.slide_u95_mm / std::sqrt(sum), 1.0, 0.12);
}

TEST(SlideUncertainty, WarmingThatMayPassForBreathWidensIt) {
  FluteMaker maker(25);
  std::vector<NoteBreath> notes = maker.measured(maker.whistle(10), 0.3);
  const Compromise warm = find_compromise(notes, Head{}, 440.0, sound_25_m_s, {});
  for (NoteBreath& note : notes) note.warming_u95_cents = 6.0;
  const Compromise cold = find_compromise(notes, Head{}, 440.0, sound_25_m_s, {});
  EXPECT_EQ(cold.slide_mm, warm.slide_mm);
  EXPECT_GT(cold.slide_u95_mm, warm.slide_u95_mm);
}

TEST(SlideUncertainty, HoldsTheMoveOfAFluteThatWarmedUnseen) {
  FluteMaker maker(26);
  const std::vector<NoteBreath> flute = maker.whistle(10);
  std::vector<NoteBreath> notes = maker.measured(flute, 0.3), warm = notes;
  for (std::size_t note = 0; note < notes.size(); ++note) {
    const double later_cents = 12.0 - static_cast<double>(note);
    notes[note].later_warming_u95_cents = later_cents;
    warm[note].moderate.cents += later_cents;
  }
  const Compromise stated = find_compromise(notes, Head{}, 440.0, sound_25_m_s, {});
  const double away_mm = find_compromise(warm, Head{}, 440.0, sound_25_m_s, {}).slide_mm - stated.slide_mm;
  EXPECT_GT(away_mm, 0.5);
  EXPECT_NEAR(stated.slide_u95_mm / away_mm, 1.0, 0.15);
}

TEST(SlideUncertainty, OfTwoStrengthsAllowsForModerateAnywhereInTheMiddleThird) {
  FluteMaker maker(27);
  std::vector<NoteBreath> notes = maker.measured(maker.whistle(10), 0.1);
  for (NoteBreath& note : notes) {
    note.moderate_is_midway = true;
    note.spread = CentsEstimate{*note.reach_soft_cents + *note.reach_hard_cents, 0.1};
  }
  const Compromise stated = find_compromise(notes, Head{}, 440.0, sound_25_m_s, {});
  const auto away_mm = [&](double share) {
    std::vector<NoteBreath> farther = notes;
    for (NoteBreath& note : farther) {
      const double cents = share * note.spread->cents;
      note.moderate.cents += cents;
      *note.reach_soft_cents += cents;
      *note.reach_hard_cents -= cents;
    }
    return std::abs(find_compromise(farther, Head{}, 440.0, sound_25_m_s, {}).slide_mm - stated.slide_mm);
  };
  const auto [nearer_mm, farther_mm] = std::minmax({away_mm(1.0 / 6.0), away_mm(-1.0 / 6.0)});
  EXPECT_GT(nearer_mm, 0.1);
  EXPECT_GT(stated.slide_u95_mm, 0.9 * nearer_mm);
  EXPECT_LT(stated.slide_u95_mm, 1.1 * farther_mm);
}

TEST(SlideUncertainty, OfNotesBlownOnceAllowsForWhatTheyStray) {
  FluteMaker maker(28);
  std::vector<NoteBreath> notes = maker.measured(maker.whistle(10), 0.1), blown_once = notes;
  for (NoteBreath& note : blown_once) note.stray_u95_cents = 4.0;
  for (NoteBreath& note : notes) note.moderate.u95_cents = std::hypot(note.moderate.u95_cents, 4.0);
  const Compromise stray = find_compromise(blown_once, Head{}, 440.0, sound_25_m_s, {});
  EXPECT_EQ(stray.slide_u95_mm, find_compromise(notes, Head{}, 440.0, sound_25_m_s, {}).slide_u95_mm);
}

TEST(SlideUncertainty, IsTheSameEveryTime) {
  FluteMaker maker(23);
  const std::vector<NoteBreath> notes = maker.measured(maker.whistle(10), 0.5);
  const Compromise first = find_compromise(notes, Head{}, 440.0, sound_25_m_s, {});
  const Compromise again = find_compromise(notes, Head{}, 440.0, sound_25_m_s, {});
  EXPECT_EQ(first.slide_mm, again.slide_mm);
  EXPECT_EQ(first.slide_u95_mm, again.slide_u95_mm);
  EXPECT_EQ(first.notes[5].u95_cents, again.notes[5].u95_cents);
}

}  // namespace
}  // namespace windway
