// SPDX-License-Identifier: GPL-3.0-or-later
#include "units/nearest_word.hpp"

#include <gtest/gtest.h>

namespace windway {
namespace {

TEST(NearestWord, IsCountedInLetters) {
  EXPECT_EQ(letters_apart("kitten", "sitting"), 3);  // the textbook's example, from memory
  EXPECT_EQ(letters_apart("", "abc"), 3);
  EXPECT_EQ(letters_apart("Notes", "nOTES"), 0);
}

TEST(NearestWord, CountsNeighboursThatChangedPlacesOnce) {
  EXPECT_EQ(letters_apart("versoin", "version"), 1);
  EXPECT_EQ(letters_apart("ab", "ba"), 1);
  EXPECT_EQ(letters_apart("abc", "cab"), 2);
}

TEST(NearestWord, IsTheOneMeant) {
  const std::vector<std::string> known{"notes", "note", "note_names", "lowest"};
  EXPECT_EQ(nearest_word("lowst", known), "lowest");
  EXPECT_EQ(nearest_word("note-names", known), "note_names");
  EXPECT_EQ(nearest_word("nodes", known), "notes");
}

TEST(NearestWord, IsNotGuessedWhereNoneOrTwoAreNear) {
  EXPECT_FALSE(nearest_word("oboe", {"whistle", "recorder"}));
  EXPECT_FALSE(nearest_word("x whistle", {"d whistle", "c whistle"}));
  EXPECT_FALSE(nearest_word("word", {}));
}

}  // namespace
}  // namespace windway
