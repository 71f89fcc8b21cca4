// SPDX-License-Identifier: GPL-3.0-or-later
#include "takes/resume.hpp"

#include <gtest/gtest.h>

#include <filesystem>

#include "written_file.hpp"

namespace windway {
namespace {

class PlanResume : public testing::Test {
 protected:
  std::string made(const std::string& name) const {
    const std::string path = folder_.path_of(name);
    test::write_bytes(path, "x");
    return path;
  }
  std::string gone(const std::string& name) const { return folder_.path_of(name); }

 private:
  test::TemporaryFolder folder_;
};

using DoneBy = std::vector<std::optional<std::size_t>>;

TEST_F(PlanResume, DoesNotRepeatWhatIsTheSame) {
  const ResultKey a{made("a"), "11", "k"}, b{made("b"), "22", "k"};
  const ResumePlan plan = plan_resume({a, b}, {b, a});
  EXPECT_EQ(plan.stays, (std::vector<bool>{true, true}));
  EXPECT_EQ(plan.done_by, (DoneBy{1, 0}));
}

TEST_F(PlanResume, DoesAnewWhatHasOtherContentOrOtherSettings) {
  const std::string a = made("a"), b = made("b");
  const ResumePlan plan = plan_resume({{a, "11", "k"}, {b, "22", "k"}}, {{a, "12", "k"}, {b, "22", "l"}});
  EXPECT_EQ(plan.stays, (std::vector<bool>{false, false}));
  EXPECT_EQ(plan.done_by, (DoneBy{std::nullopt, std::nullopt}));
}

TEST_F(PlanResume, KeepsResultsOfOtherTakes) {
  const ResumePlan plan = plan_resume({{made("a"), "11", "k"}, {gone("away/c"), "33", "k"}}, {{made("b"), "22", "k"}});
  EXPECT_EQ(plan.stays, (std::vector<bool>{true, true}));  // the other's disk may only be away
  EXPECT_EQ(plan.done_by, (DoneBy{std::nullopt}));
  EXPECT_TRUE(plan.gone.empty());
}

TEST_F(PlanResume, DropsTheResultOfATakeThatIsGoneFromItsFolder) {
  const ResumePlan plan =
      plan_resume({{gone("c"), "33", "k"}, {made("a"), "11", "k"}, {gone("d"), "", "k"}}, {{made("b"), "22", "k"}});
  EXPECT_EQ(plan.stays, (std::vector<bool>{false, true, false}));
  EXPECT_EQ(plan.gone, (std::vector<std::size_t>{0, 2}));
}

TEST_F(PlanResume, KeepsAResultWhosePathSaysNotWhichFileItWas) {
  const ResumePlan plan = plan_resume({{gone("caf\xEF\xBF\xBD"), "33", "k"}}, {});
  EXPECT_EQ(plan.stays, std::vector<bool>{true});
}

TEST_F(PlanResume, KeepsAWantedTakeThatIsGoneForItsNewResultToReplace) {
  const ResultKey lost{gone("a"), "", "lost"};
  EXPECT_EQ(plan_resume({lost}, {lost}).done_by, (DoneBy{0}));
  const ResumePlan plan = plan_resume({{gone("a"), "11", "k"}}, {lost});
  EXPECT_EQ(plan.stays, std::vector<bool>{false});
  EXPECT_TRUE(plan.gone.empty());
}

TEST_F(PlanResume, OfTwoResultsOfAnotherTakeKeepsOneAsAfterJoiningShards) {
  const ResultKey a{made("a"), "11", "k"};
  EXPECT_EQ(plan_resume({a, a}, {{made("b"), "22", "k"}}).stays, (std::vector<bool>{true, false}));
}

TEST_F(PlanResume, DropsTheResultOfATakeThatWasMoved) {
  for (const std::string& old : {gone("old/a"), gone("old")}) {
    const ResumePlan plan = plan_resume({{old, "11", "k"}}, {{made("a"), "11", "k"}});
    EXPECT_EQ(plan.stays, std::vector<bool>{false});
    EXPECT_EQ(plan.done_by, (DoneBy{std::nullopt}));
    EXPECT_TRUE(plan.gone.empty());  // it is replaced
  }
}

TEST_F(PlanResume, KeepsTheResultOfATakeWhoseCopyIsWantedToo) {
  const ResumePlan plan = plan_resume({{made("a"), "11", "k"}}, {{made("copy"), "11", "k"}});
  EXPECT_EQ(plan.stays, std::vector<bool>{true});
}

TEST_F(PlanResume, DoesAnewWhatIsCalledByAnotherNameOfTheSameFile) {
  const std::string a = made("a");
  std::filesystem::create_symlink(a, gone("link"));
  const ResumePlan plan = plan_resume({{a, "11", "k"}}, {{gone("link"), "11", "k"}});
  EXPECT_EQ(plan.stays, std::vector<bool>{false});
  EXPECT_EQ(plan.done_by, (DoneBy{std::nullopt}));
}

TEST_F(PlanResume, OfTwoResultsOfOneTakeKeepsTheFirst) {
  const ResultKey a{made("a"), "11", "k"};
  const ResumePlan plan = plan_resume({a, a}, {a});
  EXPECT_EQ(plan.stays, (std::vector<bool>{true, false}));
  EXPECT_EQ(plan.done_by, (DoneBy{0}));
}

}  // namespace
}  // namespace windway
