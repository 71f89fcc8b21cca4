// SPDX-License-Identifier: GPL-3.0-or-later
#include "bench/production.hpp"

#include <gtest/gtest.h>

#include "bench/made_up_entry.hpp"

namespace windway {
namespace {

using batch_tests::made_up_entry;

std::vector<std::string> names_of(const Production& production) {
  std::vector<std::string> names;
  for (const Produced* each : production.in_order()) names.push_back(each->name);
  return names;
}

TEST(Production, IsInTheOrderOfTheRecordings) {
  Production production;
  production.add(made_up_entry("B", {}, "2026-02-01"));
  production.add(made_up_entry("C", {}, "2026-02-01T09:00"));
  production.add(made_up_entry("A", {}, "2026-01-31T23:00"));
  EXPECT_EQ(names_of(production), (std::vector<std::string>{"A", "B", "C"}));
}

TEST(Production, IsAsTheyCameWhereNothingSaysWhenTheyWereRecorded) {
  Production production;
  for (const char* name : {"Z", "A", "M"}) production.add(made_up_entry(name, {}));
  EXPECT_EQ(names_of(production), (std::vector<std::string>{"Z", "A", "M"}));
}

TEST(Production, KeepsWhatANoteIsAsRecordedAndWhatIsLeftOfIt) {
  auto entry = made_up_entry("A", {1.5, 2.5, 3.5});
  entry.notes[1].weight = 0;
  entry.notes[2].moved.reset();
  entry.home_a4_hz = 441;
  Production production;
  production.add(entry);
  const Produced made = *production.in_order().at(0);
  ASSERT_EQ(made.notes.size(), 1U);
  EXPECT_EQ(made.notes[0].note, (NoteId{74, ""}));
  EXPECT_EQ(made.notes[0].moderate_cents, 4.5);
  EXPECT_EQ(made.notes[0].left_cents, 1.5);
  EXPECT_EQ(made.home_a4_hz, 441.0);
}

TEST(Production, KeepsTheLatestWhereThereIsNoMoreRoom) {
  Production production;
  production.add(made_up_entry("latest", {}, "2027"));
  for (std::size_t i = 0; i < Production::most_instruments; ++i)
    production.add(made_up_entry(std::to_string(i), {}, "2026"));
  EXPECT_EQ(production.size(), Production::most_instruments);
  EXPECT_EQ(production.left_out(), 1U);
  EXPECT_EQ(names_of(production).front(), "1");
  EXPECT_EQ(names_of(production).back(), "latest");
}

}  // namespace
}  // namespace windway
