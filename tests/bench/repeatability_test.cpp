// SPDX-License-Identifier: GPL-3.0-or-later
#include "bench/repeatability.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "bench/made_up_entry.hpp"

namespace windway {
namespace {

using batch_tests::made_up_entry;
using batch_tests::one_of;

const NoteId lowest_note{74, ""};

TEST(Repeatability, IsTheScatterOfTakesAboutTheirOwnInstrument) {
  Repeatability bench;  // deviations -1 and 1, -2 and 2: 10 squared cents over 2 degrees
  for (const double cents : {9.0, 11.0}) bench.add(one_of(2, made_up_entry("A", {cents})));
  for (const double cents : {-52.0, -48.0}) bench.add(one_of(2, made_up_entry("B", {cents})));
  const auto sd = repeatability_sd(bench.sums().at(lowest_note)).value();
  EXPECT_NEAR(sd.sd, std::sqrt(5.0), 1e-12);
  EXPECT_EQ(sd.degrees, 2U);
  EXPECT_EQ(bench.closed_early(), 0U);
}

TEST(Repeatability, IsTheSameHoweverTheTakesLieAmongEachOther) {
  Repeatability apart;
  for (const auto& [serial, cents] :
       std::vector<std::pair<const char*, double>>{{"A", 9}, {"B", -52}, {"B", -48}, {"A", 11}})
    apart.add(one_of(2, made_up_entry(serial, {cents})));
  EXPECT_NEAR(repeatability_sd(apart.sums().at(lowest_note)).value().sd, std::sqrt(5.0), 1e-12);
}

TEST(Repeatability, CountsGroupsThatAreNotCompleteYet) {
  Repeatability bench;
  for (const double cents : {9.0, 11.0}) bench.add(one_of(3, made_up_entry("A", {cents})));
  EXPECT_NEAR(repeatability_sd(bench.sums().at(lowest_note)).value().sd, std::sqrt(2.0), 1e-12);
}

TEST(Repeatability, KeepsStagesAndHeadsApart) {
  Repeatability bench;
  for (const char* stage : {"raw", "final"}) {
    auto entry = one_of(2, made_up_entry("A", {stage[0] == 'r' ? 0.0 : 50.0}));
    entry.subject.stage = stage;
    bench.add(entry);
  }
  EXPECT_FALSE(repeatability_sd(bench.sums().at(lowest_note)));
  EXPECT_EQ(bench.sums().at(lowest_note).groups, 2U);
}

TEST(Repeatability, LeavesOutSingleTakesThoseWithoutASerialAndNotesOfNoWeight) {
  Repeatability bench;
  bench.add(made_up_entry("A", {1.0}));
  auto nameless = one_of(2, made_up_entry("A", {1.0}));
  nameless.subject.serial.reset();
  bench.add(nameless);
  auto weightless = one_of(2, made_up_entry("B", {1.0}));
  weightless.notes[0].weight = 0;
  bench.add(weightless);
  EXPECT_TRUE(bench.sums().empty());
}

TEST(Repeatability, ClosesTheOldestGroupWhereTooManyAreOpen) {
  Repeatability bench;
  for (int i = 0; i <= 4096; ++i) bench.add(one_of(2, made_up_entry(std::to_string(i), {0.0})));
  EXPECT_EQ(bench.closed_early(), 1U);
  bench.add(one_of(2, made_up_entry("4096", {2.0})));  // still open
  EXPECT_EQ(repeatability_sd(bench.sums().at(lowest_note)).value().degrees, 1U);
}

TEST(Repeatability, KeepsWhoReadWhatWhereOperatorsAreNamed) {
  Repeatability bench;
  for (const char* name : {"Kim", "Lee", "Kim"}) {
    auto entry = one_of(4, made_up_entry("A", {1.0, 2.0}));
    entry.subject.operator_name = name;
    bench.add(entry);
  }
  bench.add(one_of(4, made_up_entry("A", {3.0, 4.0})));  // nobody says whose
  EXPECT_EQ(bench.operators(), (std::vector<std::string>{"Kim", "Lee"}));
  const auto readings = bench.readings().at({76, ""});
  ASSERT_EQ(readings.size(), 3U);
  EXPECT_EQ(readings[1].value, 2.0);
  EXPECT_EQ(readings[0].operator_index, readings[2].operator_index);
  EXPECT_NE(readings[0].operator_index, readings[1].operator_index);
}

TEST(Repeatability, DoesNotWaitForATakeThatCouldNotBeMeasured) {
  Repeatability bench;
  for (int i = 0; i <= 4096; ++i) {
    bench.add(one_of(2, made_up_entry(std::to_string(i), {0.0})));
    bench.add(one_of(2, made_up_entry(std::to_string(i), {0.0})), false);
  }
  EXPECT_EQ(bench.closed_early(), 0U);
}

}  // namespace
}  // namespace windway
