// SPDX-License-Identifier: GPL-3.0-or-later
#include "takes/jobs.hpp"

#include <gtest/gtest.h>

#include <filesystem>

#include "written_file.hpp"

namespace windway {
namespace {

using Paths = std::vector<std::string>;

TakeFiles given(Paths takes) { return {std::move(takes), {}}; }

Paths paths_of(const std::vector<BatchJob>& jobs) {
  Paths paths;
  for (const BatchJob& job : jobs) paths.push_back(job.path);
  return paths;
}

std::optional<Manifest> manifest_in(const std::string& text) { return manifest_from_csv(text, "bench/july.csv"); }

TEST(BatchJobs, WithoutManifestOrPatternEachTakeIsAnInstrumentOfItsOwn) {
  const BatchList list = batch_jobs(given({"b.wav", "a.wav"}), std::nullopt, std::nullopt);
  EXPECT_EQ(paths_of(list.jobs), (Paths{"b.wav", "a.wav"}));
  for (const BatchJob& job : list.jobs) {
    EXPECT_EQ(job.subject.serial, std::nullopt);
    EXPECT_TRUE(job.counts);
    EXPECT_EQ(job.takes_of_subject, 1);
    EXPECT_EQ(job.not_named, "");
  }
  EXPECT_TRUE(list.not_given.empty());
}

TEST(BatchJobs, TheManifestTellsOfTakesInItsOwnFolder) {
  const auto manifest = manifest_in("take,serial,bore_temp_c,head_out_mm\na.wav,HW-1,21,3\n");
  const BatchList list = batch_jobs(given({"bench/a.wav", "a.wav"}), manifest, std::nullopt);
  ASSERT_EQ(list.jobs.size(), 2U);
  EXPECT_EQ(list.jobs[0].path, "bench/a.wav");
  EXPECT_EQ(list.jobs[0].subject.serial, "HW-1");
  EXPECT_EQ(list.jobs[0].bore_temp_c, 21.0);
  EXPECT_EQ(list.jobs[0].head_out_mm, 3.0);
  EXPECT_EQ(list.jobs[0].not_named, "");
  EXPECT_EQ(list.jobs[1].subject.serial, std::nullopt);
  EXPECT_EQ(list.jobs[1].not_named, "the manifest bench/july.csv does not name it");
}

TEST(BatchJobs, AllHaveTheManifestsOwnColumnsWhetherItNamesThemOrNot) {
  const auto manifest = manifest_in("take,wood,serial,year\na.wav,pear,HW-1,\n");
  using Other = std::vector<std::pair<std::string, std::string>>;
  const BatchList list = batch_jobs(given({"bench/a.wav", "bench/b.wav"}), manifest, std::nullopt);
  EXPECT_EQ(list.jobs.at(0).subject.other, (Other{{"wood", "pear"}, {"year", ""}}));
  EXPECT_EQ(list.jobs.at(1).subject.other, (Other{{"wood", ""}, {"year", ""}}));
}

TEST(BatchJobs, TheManifestKnowsAFileHoweverItIsNamed) {
  const test::TemporaryFolder folder;
  test::write_bytes(folder.path_of("a.wav"), "x");
  std::filesystem::create_symlink("a.wav", folder.path_of("link.wav"));
  const auto manifest = manifest_from_csv("take,serial\na.wav,HW-1\n", folder.path_of("july.csv"));
  const std::string roundabout = folder.path_of("./none/../a.wav");
  for (const std::string& path : {folder.path_of("link.wav"), roundabout, folder.path_of("a.wav")}) {
    const BatchList list = batch_jobs(given({path}), manifest, std::nullopt);
    ASSERT_EQ(list.jobs.size(), 1U);
    EXPECT_EQ(list.jobs[0].path, path);
    EXPECT_EQ(list.jobs[0].subject.serial, "HW-1") << path;
    EXPECT_TRUE(list.not_given.empty());
  }
}

TEST(BatchJobs, WithoutPathsTheTakesOfTheManifestAreDoneInItsOrder) {
  const auto manifest = manifest_in("take,serial\nb.wav,HW-2\n/x/a.wav,HW-1\n");
  const BatchList list = batch_jobs({}, manifest, std::nullopt);
  EXPECT_EQ(paths_of(list.jobs), (Paths{"bench/b.wav", "/x/a.wav"}));
  EXPECT_EQ(list.jobs[0].subject.serial, "HW-2");
  EXPECT_TRUE(list.not_given.empty());
}

TEST(BatchJobs, AFolderWithoutTakesIsNotTakenForNoPathAtAll) {
  const BatchList list = batch_jobs({{}, {"notes.txt"}}, manifest_in("take,serial\na.wav,HW-1\n"), std::nullopt);
  EXPECT_TRUE(list.jobs.empty());
  EXPECT_EQ(list.not_given, (Paths{"a.wav"}));
}

TEST(BatchJobs, TakesOfTheManifestThatAreNotGivenAreToldAndLeftOut) {
  const auto manifest = manifest_in("take,serial\na.wav,1\nb.wav,2\nc.wav,3\n");
  const BatchList list = batch_jobs(given({"bench/b.wav"}), manifest, std::nullopt);
  EXPECT_EQ(paths_of(list.jobs), (Paths{"bench/b.wav"}));
  EXPECT_EQ(list.not_given, (Paths{"a.wav", "c.wav"}));
}

TEST(BatchJobs, ThePatternTellsOfTakesThatTheManifestDoesNotName) {
  const auto manifest = manifest_in("take,serial\nHW-1_raw.wav,HW-9\n");
  const auto pattern = serial_pattern("{serial}_{stage}");
  const BatchList list = batch_jobs(given({"bench/HW-1_raw.wav", "HW-2_raw.wav", "notes.wav"}), manifest, pattern);
  ASSERT_EQ(list.jobs.size(), 3U);
  EXPECT_EQ(list.jobs[0].subject.serial, "HW-9");  // the manifest before the name
  EXPECT_EQ(list.jobs[0].subject.stage, std::nullopt);
  EXPECT_EQ(list.jobs[1].subject.serial, "HW-2");
  EXPECT_EQ(list.jobs[1].subject.stage, "raw");
  EXPECT_EQ(list.jobs[1].not_named, "");
  EXPECT_EQ(list.jobs[2].subject.serial, std::nullopt);
  EXPECT_EQ(list.jobs[2].not_named,
            "the manifest bench/july.csv does not name it, and its name does not fit the pattern '{serial}_{stage}'");
}

TEST(BatchJobs, ANameThatDoesNotFitThePatternIsListedWithTheReason) {
  const BatchList list = batch_jobs(given({"HW-1.wav"}), std::nullopt, serial_pattern("{serial}_{stage}"));
  ASSERT_EQ(list.jobs.size(), 1U);
  EXPECT_EQ(list.jobs[0].not_named, "its name does not fit the pattern '{serial}_{stage}'");
}

TEST(BatchJobs, WhereALineGivesNoSerialTheNameDoesAndTheRestOfTheLineStands) {
  const auto manifest = manifest_in("take,serial,stage,remark\nHW-1_raw_2.wav,,voiced,loud\nb.wav,HW-2,,\n");
  const BatchList list = batch_jobs({}, manifest, serial_pattern("{serial}_{stage}_{retake}"));
  ASSERT_EQ(list.jobs.size(), 2U);
  EXPECT_EQ(list.jobs[0].subject.serial, "HW-1");
  EXPECT_EQ(list.jobs[0].subject.stage, "voiced");
  EXPECT_EQ(list.jobs[0].subject.retake, 2);
  EXPECT_EQ(list.jobs[0].subject.remark, "loud");
  EXPECT_EQ(list.jobs[0].not_named, "");
}

TEST(BatchJobs, ALineWithoutASerialAmongOthersWithOneIsListedNotGuessed) {
  const BatchList list = batch_jobs({}, manifest_in("take,serial\na.wav,HW-1\nb.wav,\n"), std::nullopt);
  ASSERT_EQ(list.jobs.size(), 2U);
  EXPECT_EQ(list.jobs[0].not_named, "");
  EXPECT_EQ(list.jobs[1].not_named, "the manifest bench/july.csv, line 3, gives no serial");
}

TEST(BatchJobs, AManifestThatGivesNoSerialAtAllLeavesEachTakeItsOwnInstrument) {
  const BatchList list = batch_jobs({}, manifest_in("take,bore_temp_c\na.wav,20\nb.wav,21\n"), std::nullopt);
  ASSERT_EQ(list.jobs.size(), 2U);
  EXPECT_EQ(list.jobs[1].not_named, "");
  EXPECT_EQ(list.jobs[1].bore_temp_c, 21.0);
}

}  // namespace
}  // namespace windway
