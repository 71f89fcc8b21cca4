// SPDX-License-Identifier: GPL-3.0-or-later
#include "agreement/head_places.hpp"

#include <gtest/gtest.h>

#include "agreement/invented_takes.hpp"
#include "agreement/take_agreement.hpp"

namespace windway {
namespace {

using test::drawn_out_by;
using test::invented_take;

constexpr double places_sound_m_s = 346.2677;
const std::vector<double> four_places_mm{0.0, 2.0, 4.0, 6.0};

std::vector<TakeNotes> takes_at(const std::vector<double>& places_mm, double factor) {
  std::vector<TakeNotes> takes;
  for (const double place_mm : places_mm)
    takes.push_back(invented_take(static_cast<int>(takes.size()), drawn_out_by(place_mm, factor)));
  return takes;
}

TEST(HeadPlaces, RecoverTheFactorOfTheFlute) {
  for (const double factor : {0.9, 1.0, 1.06}) {
    const HeadPlaces places = fit_places(takes_at(four_places_mm, factor), four_places_mm, {}, places_sound_m_s);
    EXPECT_EQ(places.at_mm, 3.0);
    ASSERT_TRUE(places.factor);
    EXPECT_NEAR(places.factor->factor, factor, 0.01);
    EXPECT_GT(places.factor->u95, 0.01);  // warmth and the setting of the head are allowed for
    EXPECT_LT(places.factor->u95, 0.05);
    EXPECT_TRUE(places.factor_is_telling);
    EXPECT_NEAR(*places.rest_sd_cents, 0.2, 0.08);  // an SD of 26 degrees of freedom
    EXPECT_TRUE(places.not_following.empty());
  }
}

TEST(HeadPlaces, TooNearTogetherKeepTheFactorThatWasKnown) {
  const std::vector<double> near_mm{0.0, 1.0};
  const HeadPlaces places = fit_places(takes_at(near_mm, 0.8), near_mm, {}, places_sound_m_s);
  EXPECT_FALSE(places.factor_is_telling);
  EXPECT_EQ(factor_taken(places, {}).factor, 1.0);
  Head calibrated;
  calibrated.factor = SlideFactor{0.97, 0.02};
  EXPECT_EQ(factor_taken(places, calibrated).factor, 0.97);
}

TEST(HeadPlaces, NameANoteThatDoesNotFollow) {
  std::vector<TakeNotes> takes = takes_at(four_places_mm, 1.0);
  for (std::size_t t = 0; t < takes.size(); ++t) takes[t].notes[2].moderate.cents += 2.0 * static_cast<double>(t);
  const HeadPlaces places = fit_places(takes, four_places_mm, {}, places_sound_m_s);
  EXPECT_EQ(places.not_following, std::vector{NoteId{78}});
  EXPECT_NEAR(places.factor->factor, 1.0, 0.01);
}

TEST(HeadPlaces, BringTheTakesTogether) {
  const std::vector<TakeNotes> takes = takes_at(four_places_mm, 1.0);
  const HeadPlaces places = fit_places(takes, four_places_mm, {}, places_sound_m_s);
  for (const TakeNotes& take : brought_together(takes, places, 1.0, places_sound_m_s))
    for (const NoteBreath& note : take.notes)
      EXPECT_NEAR(note.moderate.cents, drawn_out_by(3.0)(note, 0), 0.8);  // readings of SD 0.2
}

TEST(HeadPlaces, OfTakesWithoutACommonNoteHaveNoFactor) {
  std::vector<TakeNotes> takes = takes_at({0.0, 4.0}, 1.0);
  takes[0].notes.resize(5);
  takes[1].notes.erase(takes[1].notes.begin(), takes[1].notes.begin() + 5);
  EXPECT_FALSE(fit_places(takes, {0.0, 4.0}, {}, places_sound_m_s).factor);
}

TEST(HeadPlaces, DoNotDisagreeByTheirPlacesButByWarmth) {
  std::vector<TakeNotes> takes = takes_at(four_places_mm, 0.93);
  const auto agreement_of = [](const std::vector<TakeNotes>& all) {
    const HeadPlaces places = fit_places(all, four_places_mm, {}, places_sound_m_s);
    const SlideFactor factor = factor_taken(places, {});
    return take_agreement(brought_together(all, places, factor.factor, places_sound_m_s), places_sound_m_s, places,
                          factor)
        .value();
  };
  EXPECT_TRUE(agreement_of(takes).agree);
  for (std::size_t warm = 0; warm < takes.size(); ++warm) {
    std::vector<TakeNotes> one_warmer = takes;
    for (NoteBreath& note : one_warmer[warm].notes) note.moderate.cents += 5.0;
    EXPECT_FALSE(agreement_of(one_warmer).agree) << warm;
  }
}

TEST(HeadPlaces, AreSeveralOnlyWhereTheyDiffer) {
  EXPECT_FALSE(are_several_places({2.0, 2.0}));
  EXPECT_FALSE(are_several_places({}));
  EXPECT_TRUE(are_several_places({2.0, 2.5}));
}

}  // namespace
}  // namespace windway
