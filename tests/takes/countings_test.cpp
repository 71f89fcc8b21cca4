// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <algorithm>
#include <numeric>

#include "support/random.hpp"
#include "takes/counting.hpp"

namespace windway {
namespace {

using Text = std::optional<std::string>;

Subject take_of(const Text& serial, const Text& stage = {}, std::optional<int> retake = {},
                const Text& recorded_at = {}, const Text& head = {}) {
  Subject subject;
  subject.serial = serial;
  subject.stage = stage;
  subject.retake = retake;
  subject.recorded_at = recorded_at;
  subject.head = head;
  return subject;
}

std::vector<Counting> countings(const std::vector<Subject>& takes, VerdictFrom from) {
  std::vector<TakeOrder> orders;
  for (const Subject& take : takes) orders.push_back(take_order(take, from));
  return countings(orders);
}

/// The places of the takes that count.
std::vector<std::size_t> counting(const std::vector<Subject>& takes) {
  const std::vector<Counting> all = countings(takes, VerdictFrom::last);
  std::vector<std::size_t> places;
  for (std::size_t i = 0; i < all.size(); ++i)
    if (all[i].counts) places.push_back(i);
  return places;
}

using Places = std::vector<std::size_t>;

TEST(Countings, TheHighestRetakeCountsWhereverItStands) {
  EXPECT_EQ(counting({take_of("A", "raw", 10), take_of("A", "raw", 9), take_of("A", "raw", 2)}), (Places{0}));
}

TEST(Countings, ARetakeNumberOutranksTheDate) {
  EXPECT_EQ(counting({take_of("A", {}, 2, "2026-11-24"), take_of("A", {}, 1, "2026-11-25")}), (Places{0}));
}

TEST(Countings, WithoutRetakesTheLatestDateCounts) {
  EXPECT_EQ(counting({take_of("A", {}, {}, "2026-11-25T10:00"), take_of("A", {}, {}, "2026-11-25T09:00Z")}),
            (Places{0}));
}

TEST(Countings, EqualRetakesAreToldApartByTheirDates) {
  EXPECT_EQ(counting({take_of("A", {}, 2, "2026-11-25"), take_of("A", {}, 2, "2026-11-24"), take_of("A", {}, 1)}),
            (Places{0}));
}

TEST(Countings, WhereDatesDoNotTellTheLaterInTheListCounts) {
  EXPECT_EQ(counting({take_of("A"), take_of("A")}), (Places{1}));
  EXPECT_EQ(counting({take_of("A", {}, {}, "2026-11-25T10:00"), take_of("A", {}, {}, "2026-11-25")}), (Places{1}));
  EXPECT_EQ(counting({take_of("A", {}, {}, "2026-11-25"), take_of("A", {}, {}, "2026-11-25T10:00")}), (Places{1}));
}

TEST(Countings, WhatOnlyOneOfTwoSaysDoesNotTellThemApart) {
  EXPECT_EQ(counting({take_of("A", {}, 3), take_of("A")}), (Places{1}));
  EXPECT_EQ(counting({take_of("A", {}, {}, "2026-11-25"), take_of("A")}), (Places{1}));
}

TEST(Countings, AnUnnumberedTakeDoesNotMakeALowRetakeCountBeforeAHighOne) {
  EXPECT_EQ(counting({take_of("A", {}, 2, "2026-11-25"), take_of("A", {}, {}, "2026-11-24"), take_of("A", {}, 1)}),
            (Places{0}));
}

TEST(Countings, StagesAndSerialsAreApart) {
  EXPECT_EQ(counting({take_of("A", "raw"), take_of("A", "final"), take_of("A"), take_of("B", "raw"), take_of("A", "")}),
            (Places{0, 1, 2, 3, 4}));
}

TEST(Countings, WithAnotherHeadOnlyTheLastCountsButEachHeadHasItsTakes) {
  const std::vector<Subject> takes{take_of("A", "raw", 1, {}, "H1"), take_of("A", "raw", 2, {}, "H1"),
                                   take_of("A", "raw", 3, {}, "H2"), take_of("A", "raw", 4)};
  EXPECT_EQ(countings(takes, VerdictFrom::last),
            (std::vector<Counting>{{.counts = false, .takes_of_subject = 2},
                                   {.counts = false, .takes_of_subject = 2, .is_first = false},
                                   {.counts = false, .is_first = false},
                                   {.is_first = false}}));
}

TEST(Countings, TakesWithoutASerialStandAlone) {
  EXPECT_EQ(countings({take_of({}, "raw"), take_of({}, "raw")}, VerdictFrom::last),
            (std::vector<Counting>{{true, 1}, {true, 1}}));
}

TEST(Countings, EveryTakeCountsWhereAllAreWanted) {
  EXPECT_EQ(countings({take_of("A", {}, 1), take_of("A", {}, 2), take_of("A", {}, 3)}, VerdictFrom::all),
            (std::vector<Counting>{{.takes_of_subject = 3, .from = VerdictFrom::all},
                                   {.takes_of_subject = 3, .is_first = false, .from = VerdictFrom::all},
                                   {.takes_of_subject = 3, .is_first = false, .from = VerdictFrom::all}}));
}

TEST(Countings, TheFirstTakeIsFoundAsTheLastIs) {
  const std::vector<Subject> takes{take_of("A", {}, 2, "2026-03-01"), take_of("A", {}, 1, "2026-03-04"),
                                   take_of("A", {}, 1, "2026-03-02"), take_of("B"), take_of("B")};
  std::vector<bool> first;
  for (const Counting& each : countings(takes, VerdictFrom::last)) first.push_back(each.is_first);
  EXPECT_EQ(first, (std::vector<bool>{false, false, true, true, false}));
}

TEST(Countings, NoOtherTakeMakesUpForALostOne) {
  std::vector<TakeOrder> takes{take_order(take_of("A", {}, 1), VerdictFrom::last),
                               take_order(take_of("A", {}, 2), VerdictFrom::last)};
  takes[0].is_lost = true;
  for (const Counting& each : countings(takes)) EXPECT_TRUE(each.counts);
}

TEST(Countings, NoTakesGiveNone) { EXPECT_TRUE(countings({}, VerdictFrom::last).empty()); }

TEST(Countings, JustOneTakeOfEachSerialAndStageCounts) {
  synthesis::Random random(20261125);
  const auto drawn = [&random](int count) { return static_cast<int>(random.uniform(0, count)); };
  std::vector<Subject> takes;
  for (int i = 0; i < 3000; ++i) {
    takes.push_back(take_of(std::string(1, static_cast<char>('A' + drawn(20)))));
    if (drawn(2) == 0) takes.back().retake = drawn(5);
    if (drawn(2) == 0) takes.back().recorded_at = "2026-11-2" + std::to_string(drawn(9));
  }
  Places serials(20);
  for (const std::size_t place : counting(takes))
    ++serials[static_cast<std::size_t>(takes[place].serial->front() - 'A')];
  EXPECT_EQ(serials, Places(20, 1));
}

// Whichever way the list runs, no take counts before one that both its retake number and its date put after it.
TEST(Countings, NumbersAndDatesTellTheSameInAnyOrderOfTheList) {
  std::vector<Subject> takes{take_of("A", {}, 1, "2026-11-20"), take_of("A", {}, 3, "2026-11-22"),
                             take_of("A", {}, 3, "2026-11-24T08:00Z"), take_of("A", {}, 2, "2026-11-25")};
  std::vector<std::size_t> order(takes.size());
  std::iota(order.begin(), order.end(), 0U);
  do {
    std::vector<Subject> shuffled;
    for (const std::size_t place : order) shuffled.push_back(takes[place]);
    const Places last = counting(shuffled);
    ASSERT_EQ(last.size(), 1U);
    EXPECT_EQ(shuffled[last.front()].recorded_at, "2026-11-24T08:00Z");
  } while (std::ranges::next_permutation(order).found);
}

TEST(Countings, TwoHundredThousandTakesOfOneFluteAreSoonCounted) {
  const std::vector<Subject> takes(200000, take_of("keeper", {}, {}, "2026-11-25T08:00"));
  EXPECT_EQ(counting(takes), (Places{199999}));
}

}  // namespace
}  // namespace windway
