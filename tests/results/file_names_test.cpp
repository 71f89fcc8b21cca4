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

TEST(FileNames, LeadOutOfNoFolder) {
  EXPECT_EQ(file_names_of({"../../etc/passwd", "/tmp/x", "..", ".", "", "a\\b:c", "-rf", std::string("n\0l", 3)}),
            (Names{"_._.._etc_passwd", "_tmp_x", "_.", "_", "_-2", "a_b_c", "_rf", "n_l"}));
}

TEST(FileNames, AreToldApart) {
  EXPECT_EQ(file_names_of({"HW/1", "HW_1", "HW:1"}), (Names{"HW_1-2", "HW_1", "HW_1-3"}));
  EXPECT_EQ(file_names_of({"hw-1", "HW-1", "HW-1-2"}), (Names{"hw-1", "HW-1-2", "HW-1-2-2"}));
  EXPECT_EQ(file_names_of({"\u00E9", "e\u0301"}), (Names{"\u00E9", "e\u0301-2"}));  // one letter in two spellings
}

TEST(FileNames, AreShortAndUtf8) {
  const Names names =
      file_names_of({std::string(300, 'x'), std::string(300, 'x') + "y", "\xFF\xFE!", std::string(99, 'x') + "\u00E9"});
  for (const std::string& name : names) EXPECT_LE(name.size(), 103U);
  EXPECT_NE(names[0], names[1]);
  EXPECT_EQ(names[2], "___");
  EXPECT_EQ(names[3], std::string(99, 'x'));
}

}  // namespace
}  // namespace windway
