// SPDX-License-Identifier: GPL-3.0-or-later
// Takes of one call from their sound on: whether they agree, and the best place of takes at several places.
#include <gtest/gtest.h>

#include <cmath>

#include "agreement/drawn_calls.hpp"
#include "slide/warming.hpp"
#include "support/plan.hpp"
#include "support/truth.hpp"

namespace windway {
namespace {

using namespace synthesis;
using test::drawn_whistle;
using test::measured_call;
using test::TakeOfCall;

bool is_said_to_disagree(const Measurement& found) {
  return find_warning(found.warnings, WarningCode::takes_disagree) != nullptr;
}

bool any_doubt_of_takes(const Measurement& found) {
  return is_said_to_disagree(found) || find_warning(found.warnings, WarningCode::take_note_apart);
}

/// Takes of a flute that its player keeps as warm, and whose head he sets as well, as players do.
std::vector<TakeOfCall> takes_at(const std::vector<double>& places_mm, double slide_factor, Random& random) {
  std::vector<TakeOfCall> takes;
  for (const double place_mm : places_mm)
    takes.push_back({place_mm + random.normal(0.0, place_sd_mm), random.normal(0.0, alike_sd_cents / std::sqrt(2.0)),
                     0.0, slide_factor});
  return takes;
}

/// The place that asks least of the breath, by trying every fiftieth of a millimetre.
double true_best_place_mm(const FluteModel& flute, double slide_factor) {
  Random random(1);
  const auto plan = note_by_note(major_scale(74, 16), {Blow::soft, Blow::moderate, Blow::hard}, {}, {}, random);
  double best_mm = 0, least = 1e9;
  for (int step = 0; step <= 600; ++step) {
    const double place_mm = 0.02 * step;
    const FluteModel there = test::flute_in({place_mm, 0.0, 0.0, slide_factor}, flute);
    const double cost = mean_cost(true_notes(there, plan, Strengths{}), 0.0, 0.0);
    if (cost < least) least = cost, best_mm = place_mm;
  }
  return best_mm;
}

TEST(TogetherSlow, TakesAsAlikeAsAPlayerMakesThemAreSeldomDoubted) {
  Random random(60);
  int doubted = 0;
  constexpr int calls = 60;
  for (std::uint64_t call = 0; call < calls; ++call) {
    std::vector<TakeOfCall> takes(call % 2 == 0 ? 2 : 3);
    for (TakeOfCall& take : takes) take.warmer_cents = random.normal(0.0, alike_sd_cents / std::sqrt(2.0));
    const Measurement found = measured_call(drawn_whistle(call, 12.0), takes, 1000 + call);
    ASSERT_TRUE(found.agreement);
    doubted += any_doubt_of_takes(found);
  }
  EXPECT_LE(doubted, 3);  // 1 in 100 is meant: more than 3 of 60 come once in 300
}

TEST(TogetherSlow, AHeadMovedByAMillimetreIsFoundAndNamed) {
  int found_out = 0, named = 0;
  constexpr int calls = 24;
  for (std::uint64_t call = 0; call < calls; ++call) {
    const double out_mm = call % 2 == 0 ? 1.0 : -1.0;
    const Measurement found = measured_call(drawn_whistle(300 + call, 12.0), {{}, {out_mm}}, 2000 + call);
    found_out += is_said_to_disagree(found);
    named += found.agreement->as_head;
  }
  EXPECT_GT(found_out, 0.95 * calls);
  EXPECT_GT(named, 0.9 * calls);
}

TEST(TogetherSlow, ThreeCentsOfWarmthAreFoundAndNamed) {
  int found_out = 0, named = 0;
  constexpr int calls = 24;
  for (std::uint64_t call = 0; call < calls; ++call) {
    const Measurement found =
        measured_call(drawn_whistle(500 + call, 12.0), {{}, {0.0, call % 2 == 0 ? 3.0 : -3.0}}, 3000 + call);
    found_out += is_said_to_disagree(found);
    named += found.agreement->as_warmth;
  }
  EXPECT_GT(found_out, 0.95 * calls);
  EXPECT_GT(named, 0.9 * calls);
}

TEST(TogetherSlow, ATakeOfAnotherFluteIsFound) {
  int found_out = 0;
  constexpr int calls = 24;
  for (std::uint64_t call = 0; call < calls; ++call) {
    const FluteModel flute = drawn_whistle(700 + call, 12.0), other = drawn_whistle(800 + call, 12.0);
    found_out += is_said_to_disagree(test::measured_calls_of({flute, other}, 4000 + call));
  }
  EXPECT_GT(found_out, 0.95 * calls);
}

void expect_places_held(double slide_factor, std::uint64_t seed) {
  int held = 0, factors_held = 0, doubted = 0;
  constexpr int calls = 30;
  const std::vector<double> places_mm{0.0, 2.0, 4.0, 6.0};
  for (std::uint64_t call = 0; call < calls; ++call) {
    Random random(seed + call);
    const FluteModel flute = drawn_whistle(seed + call, random.uniform(8.0, 30.0));
    const Measurement found = measured_call(flute, takes_at(places_mm, slide_factor, random), seed + call, places_mm);
    ASSERT_TRUE(found.places && found.places->factor && found.compromise);
    EXPECT_EQ(found.settings.head.out_mm, 3.0);
    const double u95_mm = std::hypot(found.compromise->slide_u95_mm, found.compromise->slide_model_u95_mm);
    const double off_mm = 3.0 + found.compromise->slide_mm - true_best_place_mm(flute, slide_factor);
    held += std::abs(off_mm) <= u95_mm + 0.01;
    const SlideFactor& factor = *found.places->factor;
    factors_held += std::abs(factor.factor - slide_factor) <= factor.u95;
    doubted += is_said_to_disagree(found);
    EXPECT_TRUE(found.places->factor_is_telling);
    EXPECT_NEAR(factor.factor, slide_factor, 0.06);  // three of its SDs and more
  }
  constexpr int least_held = 25;  // 19 in 20 hold: fewer than 25 of 30 do once in 300
  EXPECT_GE(held, least_held);
  EXPECT_GE(factors_held, least_held);
  EXPECT_LE(doubted, 0.03 * calls);
}

TEST(TogetherSlow, TheBestPlaceOfTakesAtFourPlacesIsWithinItsUncertainty) { expect_places_held(1.0, 6000); }

TEST(TogetherSlow, SoItIsOnAFluteWithAFactorOfItsOwn) { expect_places_held(0.9, 7000); }

TEST(TogetherSlow, OneWarmerTakeAmongSeveralPlacesIsFound) {
  int found_out = 0;
  constexpr int calls = 24;
  const std::vector<double> places_mm{0.0, 2.0, 4.0, 6.0};
  for (std::uint64_t call = 0; call < calls; ++call) {
    Random random(8000 + call);
    std::vector<TakeOfCall> takes = takes_at(places_mm, 1.0, random);
    takes[call % 4].warmer_cents += call % 8 < 4 ? 6.0 : -6.0;  // two degrees
    found_out += is_said_to_disagree(measured_call(drawn_whistle(8000 + call, 15.0), takes, 8000 + call, places_mm));
  }
  EXPECT_GT(found_out, 0.95 * calls);
}

}  // namespace
}  // namespace windway
