// SPDX-License-Identifier: GPL-3.0-or-later
#include "warning.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <set>

namespace windway {
namespace {

TEST(WarningCodes, EachHasATextOfItsOwn) {
  std::set<std::string_view> texts;
  for (std::size_t i = 0; i < warning_codes.size(); ++i) {
    EXPECT_EQ(warning_codes[i].first, static_cast<WarningCode>(i)) << "the table is in the order of the codes";
    EXPECT_FALSE(warning_codes[i].second.empty());
    EXPECT_TRUE(texts.insert(warning_codes[i].second).second) << warning_codes[i].second;
  }
}

TEST(WarningCodes, AreReadBackFromTheirText) {
  for (const auto& [code, text] : warning_codes) EXPECT_EQ(warning_code(text), code);
}

TEST(WarningCodes, AnotherVersionsCodeIsUnknown) {
  EXPECT_EQ(warning_code("made_up_code"), WarningCode::unknown);
  EXPECT_EQ(warning_code(""), WarningCode::unknown);
}

TEST(WarningCodes, OnlyWhatLeavesNoMoveToAdviseIsADeepDoubt) {
  EXPECT_EQ(std::ranges::count_if(warning_codes, [](const auto& each) { return is_deep_doubt(each.first); }), 11);
  EXPECT_TRUE(is_deep_doubt(WarningCode::other_sound));
  EXPECT_TRUE(is_deep_doubt(WarningCode::struck_string));
  EXPECT_TRUE(is_deep_doubt(WarningCode::tune_played));
  EXPECT_TRUE(is_deep_doubt(WarningCode::instrument_ambiguous));
  EXPECT_TRUE(is_deep_doubt(WarningCode::scale_far_off));
  EXPECT_TRUE(is_deep_doubt(WarningCode::scale_doubtful));
  EXPECT_TRUE(is_deep_doubt(WarningCode::takes_disagree));
  EXPECT_TRUE(is_deep_doubt(WarningCode::unsteady));
  EXPECT_TRUE(is_deep_doubt(WarningCode::pitch_corrected));
  EXPECT_TRUE(is_deep_doubt(WarningCode::head_moved));
  EXPECT_TRUE(is_deep_doubt(WarningCode::strengths_unknown));
}

TEST(FindWarning, GivesTheFirstOfItsCode) {
  const Warnings warnings{{WarningCode::clipped, "a"}, {WarningCode::silent, "b"}, {WarningCode::silent, "c"}};
  EXPECT_EQ(find_warning(warnings, WarningCode::silent)->message, "b");
  EXPECT_EQ(find_warning(warnings, WarningCode::levelled), nullptr);
}

}  // namespace
}  // namespace windway
