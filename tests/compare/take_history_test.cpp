// SPDX-License-Identifier: GPL-3.0-or-later
#include "compare/take_history.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "card/even_flute.hpp"
#include "compare/compare.hpp"
#include "slide/law_of_slide.hpp"

namespace windway {
namespace {

using test::even_flute;

FluteResult take(const std::string& name, Measurement measurement,
                 const std::optional<std::string>& recorded = std::nullopt) {
  measurement.takes[0].recorded_at = recorded;
  return {name, std::move(measurement)};
}

Measurement with_note_off(Measurement measurement, std::size_t note, double cents) {
  measurement.breath.notes[note].moderate.cents += cents;
  return test::with_move(measurement);
}

std::string names_in_order(const TakeHistory& history) {
  std::string names;
  for (const FluteResult& each : history.takes) names += each.name;
  return names;
}

TakeHistory history_of(const std::vector<std::optional<std::string>>& times) {
  std::vector<FluteResult> takes;
  for (std::size_t i = 0; i < times.size(); ++i)
    takes.push_back(take(std::string(1, static_cast<char>('a' + i)), even_flute(10), times[i]));
  return take_history(takes);
}

TEST(TakeHistory, StandsInOrderOfTimeWhereAllSayIt) {
  const TakeHistory history = history_of({"2026-03-05", "2026-03-01T19:30", "2026-02"});
  EXPECT_EQ(names_in_order(history), "cba");
  EXPECT_TRUE(history.is_by_time);
  EXPECT_EQ(names_in_order(history_of({"2026-03-05", "2026-03-05", "2026-03-01"})), "cab");
}

TEST(TakeHistory, StandsAsGivenWhereTheTimesDoNotTell) {
  const std::vector<std::vector<std::optional<std::string>>> not_telling{
      {"2026-03-05", std::nullopt, "2026-03-01"},
      {"2026-03-05", "2026-03-05T08:00", "2026-03-01"},      // before or after eight?
      {"2026-03-05T09:00Z", "2026-03-05T08:00", "2026-01"},  // in which zone?
  };
  for (const auto& times : not_telling) {
    const TakeHistory history = history_of(times);
    EXPECT_EQ(names_in_order(history), "abc");
    EXPECT_FALSE(history.is_by_time);
  }
}

TEST(TakeHistory, OfOneTakeHasNoStep) {
  const TakeHistory history = take_history({take("a", even_flute(10))});
  EXPECT_TRUE(history.steps.empty());
  EXPECT_FALSE(history.agreement);
}

TEST(TakeHistory, SaysOfEachNoteWhatCompareSays) {
  const Measurement before = even_flute(10), after = with_note_off(even_flute(13), 4, 6);
  const TakeHistory history = take_history({take("a", before), take("b", after)});
  const Comparison compared = compare(before, after, {});
  ASSERT_EQ(history.steps[0].notes.size(), compared.notes.size());
  for (std::size_t i = 0; i < compared.notes.size(); ++i) {
    EXPECT_NEAR(history.steps[0].notes[i].change.cents, compared.notes[i].change.cents, 1e-9);
    EXPECT_NEAR(history.steps[0].notes[i].change.u95_cents, compared.notes[i].change.u95_cents, 1e-9);
    EXPECT_EQ(history.steps[0].notes[i].is_real, compared.notes[i].is_real);
  }
  EXPECT_NEAR(history.steps[0].together.cents, compared.mean_change.cents, 1e-9);
}

TEST(TakeHistory, TellsANoteThatChangedFromWhatAllNotesDid) {
  const TakeHistory history = take_history({take("a", even_flute(10)), take("b", with_note_off(even_flute(13), 4, 6))});
  const TakeStep& step = history.steps[0];
  for (std::size_t i = 0; i < step.notes.size(); ++i) {
    EXPECT_TRUE(step.notes[i].is_real);  // all rose by 3 cents
    EXPECT_EQ(step.notes[i].is_apart, i == 4) << i;
  }
  const double share = 1.0 / static_cast<double>(step.notes.size());
  EXPECT_NEAR(step.together.cents, 3.0 + 6.0 * share, 1e-9);
  EXPECT_NEAR(step.notes[4].apart.cents, 6.0 - 6.0 * share, 1e-9);
}

TEST(TakeHistory, TellsANoteApartOnlyBeyondWhatChanceShowsOnAnyOfThem) {
  // Of 14 notes u95 has to be beyond 2.91 / 1.96 times (Sidak); the changed note draws the mean along by a 14th.
  const auto is_apart = [](double times) {
    const double u95_cents = std::sqrt(2.0 * 0.4 * 0.4 * (1.0 - 1.0 / 14.0));
    const double cents = times * u95_cents / (1.0 - 1.0 / 14.0);
    return take_history({take("a", even_flute(10)), take("b", with_note_off(even_flute(10), 4, cents))})
        .steps[0]
        .notes[4]
        .is_apart;
  };
  EXPECT_FALSE(is_apart(1.05));
  EXPECT_FALSE(is_apart(1.45));
  EXPECT_TRUE(is_apart(1.52));
}

TEST(TakeHistory, ChangesOnlyBeyondBothUncertainties) {
  // 0.4 cents each: 0.57 together.
  const auto changed = [](double cents) {
    return take_history({take("a", even_flute(10)), take("b", even_flute(10 + cents))}).steps[0].notes[0].is_real;
  };
  EXPECT_FALSE(changed(0.55));
  EXPECT_TRUE(changed(0.58));
  EXPECT_TRUE(changed(-0.58));
}

/// Each note of a flute as it reads once the head is drawn out.
Measurement drawn_out(Measurement measurement, double mm) {
  for (std::size_t i = 0; i < measurement.breath.notes.size(); ++i)
    measurement.breath.notes[i].moderate.cents +=
        slide_change_cents(measurement.compromise->notes[i].effective_length_mm, mm);
  measurement.settings.head.out_mm = *measurement.settings.head.out_mm + mm;
  return test::with_move(measurement);
}

TEST(TakeHistory, AllowsForAMoveOfTheHeadThatWasSaid) {
  const Measurement before = even_flute(10, {true, 1.0, {}, {}});
  const TakeHistory history = take_history({take("a", before), take("b", drawn_out(before, 3.0))});
  EXPECT_EQ(history.steps[0].drawn_out_mm, 3.0);
  EXPECT_NEAR(history.steps[0].together.cents, 0.0, 1e-9);
  for (const SteppedNote& note : history.steps[0].notes) {
    EXPECT_NEAR(note.change.cents, 0.0, 1e-9);
    EXPECT_GT(note.change.u95_cents, 0.05 * 17.0);  // the law's five per cent of at least 17 cents
    EXPECT_FALSE(note.is_real || note.is_apart);
  }
}

TEST(TakeHistory, SaysWhereTheHeadIsNotKnownOfBoth) {
  const Measurement known = even_flute(10, {true, 1.0, {}, {}});
  EXPECT_FALSE(take_history({take("a", known), take("b", even_flute(10))}).steps[0].drawn_out_mm);
}

TEST(TakeHistory, AllowsForTheTemperatureThatWasSaid) {
  Measurement warmer = even_flute(10 + air_change_cents(Air{}, Air{.temperature_c = 28}));
  warmer.settings.air.temperature_c = 28;
  const TakeHistory history = take_history({take("a", even_flute(10)), take("b", test::with_move(warmer))});
  EXPECT_NEAR(history.steps[0].together.cents, 0.0, 1e-9);
}

TEST(TakeHistory, AgreesOfTwoTakesAsCompareSaysOfOneSetting) {
  const Measurement before = even_flute(10), after = with_note_off(with_note_off(even_flute(13), 4, 6), 2, -2);
  const DayAgreement agreement = *take_history({take("a", before), take("b", after)}).agreement;
  const Repeat repeat = *compare(before, after, {.drawn_out_mm = {}, .same_setting = true}).repeat;
  EXPECT_NEAR(agreement.note_sd_cents, repeat.note_sd_cents, 1e-9);
  EXPECT_NEAR(agreement.note_u95_cents, repeat.note_u95_cents, 1e-9);
  EXPECT_NEAR(agreement.together_sd_cents, std::abs(repeat.together.cents) / std::sqrt(2.0), 1e-9);
}

TEST(TakeHistory, RefusesOtherInstruments) {
  Measurement recorder = even_flute(10);
  recorder.naming.instrument = builtin_instrument(Kind::recorder, 74);
  Measurement lower = even_flute(10);
  lower.naming.instrument = builtin_instrument(Kind::whistle, 62);
  for (const Measurement& other : {recorder, lower}) {
    try {
      take_history({take("a.json", even_flute(10)), take("b.json", other)});
      ADD_FAILURE() << "not refused";
    } catch (const Error& error) {
      EXPECT_EQ(error.kind(), ErrorKind::usage);
      EXPECT_NE(std::string(error.what())
                    .find("a history is of one flute, but a.json is of a whistle in D from D5 and "
                          "b.json of a"),
                std::string::npos)
          << error.what();
    }
  }
}

}  // namespace
}  // namespace windway
