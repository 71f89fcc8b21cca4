// SPDX-License-Identifier: GPL-3.0-or-later
#include "results/file_names.hpp"

#include <gtest/gtest.h>

#include <algorithm>

namespace windway {
namespace {

using Names = std::vector<std::string>;

TEST(FileNames, AreTheTextsWhereThoseAreGood) {
  EXPECT_EQ(file_names_of({"HW-1002", "b.2_x", "Fl\u00F6te-7"}), (Names{"HW-1002", "b.2_x", "Fl\u00F6te-7"}));
}

std::string without_digits(const std::string& name) { return name.substr(0, name.rfind('-')); }

TEST(FileNames, LeadOutOfNoFolder) {
  Names names = file_names_of({"../../etc/passwd", "/tmp/x", "..", ".", "", "a\\b:c", "-rf", std::string("n\0l", 3)});
  std::ranges::transform(names, names.begin(), without_digits);
  EXPECT_EQ(names, (Names{"_._.._etc_passwd", "_tmp_x", "_.", "_", "_", "a_b_c", "_rf", "n_l"}));
}

TEST(FileNames, AreToldApartByDigitsOfTheirSums) {
  EXPECT_EQ(file_names_of({"HW/1", "HW_1", "HW:1"}), (Names{"HW_1-62041ad1", "HW_1", "HW_1-a309f29d"}));
  EXPECT_EQ(file_names_of({"hw-1", "HW-1", "HW-1-2"}), (Names{"hw-1-3a611a15", "HW-1-a8514fa5", "HW-1-2"}));
  const Names spelt = file_names_of({"\u00E9", "e\u0301"});  // one letter in two spellings
  EXPECT_EQ(without_digits(spelt[0]), "\u00E9");
  EXPECT_NE(spelt[0], spelt[1]);
}

TEST(FileNames, AreTheSameWhicheverOthersCome) {
  EXPECT_EQ(file_names_of({"HW:1"}).front(), file_names_of({"HW/1", "HW_1", "HW:1"}).back());
  // A text that looks like another's name keeps its own, and the other gets one digit more.
  const Names names = file_names_of({"HW/1", "HW_1-62041ad1"});
  EXPECT_EQ(names[1], "HW_1-62041ad1");
  EXPECT_TRUE(names[0].starts_with("HW_1-62041ad1") && names[0].size() == names[1].size() + 1) << names[0];
}

TEST(FileNames, AreShortAndUtf8) {
  const Names names =
      file_names_of({std::string(300, 'x'), std::string(300, 'x') + "y", "\xFF\xFE!", std::string(99, 'x') + "\u00E9"});
  for (const std::string& name : names) EXPECT_LE(name.size(), 109U);
  EXPECT_NE(names[0], names[1]);
  EXPECT_EQ(without_digits(names[2]), "___");
  EXPECT_EQ(without_digits(names[3]), std::string(99, 'x'));
}

}  // namespace
}  // namespace windway
