// SPDX-License-Identifier: GPL-3.0-or-later
#include "takes/jobs.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>

#include "written_file.hpp"

namespace windway {
namespace {

namespace fs = std::filesystem;
using Paths = std::vector<std::string>;

Paths paths_of(const std::vector<BatchJob>& jobs) {
  Paths paths;
  for (const BatchJob& job : jobs) paths.push_back(job.path);
  return paths;
}

/// A folder with takes, and july.csv beside them.
class BatchJobs : public testing::Test {
 protected:
  std::string in(const std::string& name) const { return folder_.path_of(name); }
  std::string made(const std::string& name) const {
    std::string path = in(name);
    fs::create_directories(fs::path(path).parent_path());
    test::write_bytes(path, "x");
    return path;
  }
  std::string july() const { return in("july.csv"); }
  std::optional<Manifest> manifest(const std::string& text) const { return manifest_from_csv(text, july()); }
  static std::optional<TakeFiles> given(const Paths& paths) { return take_files(paths); }
  std::string lost_in_line(int line) const {
    return "the manifest " + july() + ", line " + std::to_string(line) + ", names it, but there is no such file";
  }

 private:
  test::TemporaryFolder folder_;
};

TEST_F(BatchJobs, WithoutManifestOrPatternEachTakeIsAnInstrumentOfItsOwn) {
  const BatchList list = batch_jobs(given({"b.wav", "a.wav"}), std::nullopt, std::nullopt);
  EXPECT_EQ(paths_of(list.jobs), (Paths{"b.wav", "a.wav"}));
  for (const BatchJob& job : list.jobs) {
    EXPECT_EQ(job.subject.serial, std::nullopt);
    EXPECT_TRUE(job.counting.counts);
    EXPECT_EQ(job.counting.takes_of_subject, 1);
    EXPECT_EQ(job.why_not, "");
    EXPECT_FALSE(job.is_lost);
  }
  EXPECT_TRUE(list.not_given.empty());
}

TEST_F(BatchJobs, TheManifestTellsOfTakesInItsOwnFolder) {
  const std::string own = made("a.wav"), other = made("other/a.wav");
  const BatchList list =
      batch_jobs(given({other, own}), manifest("take,serial,bore_temp_c,head_out_mm\na.wav,HW-1,21,3\n"), std::nullopt);
  EXPECT_EQ(paths_of(list.jobs), (Paths{own, other}));  // those of the manifest come first
  EXPECT_EQ(list.jobs[0].subject.serial, "HW-1");
  EXPECT_EQ(list.jobs[0].bore_temp_c, 21.0);
  EXPECT_EQ(list.jobs[0].head_out_mm, 3.0);
  EXPECT_EQ(list.jobs[0].manifest_line, 2);
  EXPECT_EQ(list.jobs[0].why_not, "");
  EXPECT_EQ(list.jobs[1].subject.serial, std::nullopt);
  EXPECT_EQ(list.jobs[1].manifest_line, 0);
  EXPECT_EQ(list.jobs[1].why_not, "the manifest " + july() + " does not name it");
}

TEST_F(BatchJobs, AllHaveTheManifestsOwnColumnsWhetherItNamesThemOrNot) {
  made("a.wav");
  made("b.wav");
  using Other = std::vector<std::pair<std::string, std::string>>;
  const BatchList list = batch_jobs(given({in("a.wav"), in("b.wav")}),
                                    manifest("take,wood,serial,year\na.wav,pear,HW-1,\n"), std::nullopt);
  EXPECT_EQ(list.jobs.at(0).subject.other, (Other{{"wood", "pear"}, {"year", ""}}));
  EXPECT_EQ(list.jobs.at(1).subject.other, (Other{{"wood", ""}, {"year", ""}}));
}

TEST_F(BatchJobs, TheManifestKnowsAFileHoweverItIsNamed) {
  made("a.wav");
  fs::create_symlink("a.wav", in("link.wav"));
  for (const std::string& path : {in("link.wav"), in("./none/../a.wav"), in("a.wav")}) {
    const BatchList list = batch_jobs(given({path}), manifest("take,serial\na.wav,HW-1\n"), std::nullopt);
    ASSERT_EQ(list.jobs.size(), 1U);
    EXPECT_EQ(list.jobs[0].path, path);
    EXPECT_EQ(list.jobs[0].subject.serial, "HW-1") << path;
    EXPECT_TRUE(list.not_given.empty());
  }
}

TEST_F(BatchJobs, WithoutPathsTheTakesOfTheManifestAreDoneInItsOrder) {
  made("b.wav");
  const BatchList list = batch_jobs({}, manifest("take,serial\nb.wav,HW-2\n/x/a.wav,HW-1\n"), std::nullopt);
  EXPECT_EQ(paths_of(list.jobs), (Paths{in("b.wav"), "/x/a.wav"}));
  EXPECT_EQ(list.jobs[0].subject.serial, "HW-2");
  EXPECT_TRUE(list.not_given.empty());
}

TEST_F(BatchJobs, ALostTakeOfTheManifestIsAJobInEveryMode) {
  made("a.wav"), made("elsewhere/c.wav"), made("empty/notes.txt");
  const auto rows = manifest("take,serial\na.wav,HW-1\ngone.wav,HW-2\n");
  const std::optional<TakeFiles> none = TakeFiles{};  // as of an empty list on standard input
  for (const auto& files : {std::optional<TakeFiles>(), given({in("")}), given({in("a.wav")}), given({in("gone.wav")}),
                            given({in("empty")}), given({in("elsewhere")}), none}) {
    const BatchList list = batch_jobs(files, rows, std::nullopt);
    const auto lost = std::ranges::find_if(list.jobs, &BatchJob::is_lost);
    ASSERT_NE(lost, list.jobs.end());
    EXPECT_EQ(lost->path, in("gone.wav"));
    EXPECT_EQ(lost->subject.serial, "HW-2");
    EXPECT_EQ(lost->why_not, lost_in_line(3));
    EXPECT_EQ(std::ranges::count_if(list.jobs, &BatchJob::is_lost), 1);
  }
}

TEST_F(BatchJobs, ALostTakeIsSaidToBeLostEvenWhereItsSerialIsUnknownToo) {
  const BatchList list =
      batch_jobs({}, manifest("take,serial\ngone.wav,\nb.wav,HW-2\n"), serial_pattern("{serial}_{stage}"));
  EXPECT_EQ(list.jobs[0].why_not, lost_in_line(2));
}

TEST_F(BatchJobs, AFolderInPlaceOfATakeIsNoTakeThatIsThere) {
  made("folder.wav/x.txt"), made("other/b.wav");
  const BatchList list = batch_jobs(given({in("other")}), manifest("take,serial\nfolder.wav,HW-1\n"), std::nullopt);
  EXPECT_TRUE(list.not_given.empty());
  ASSERT_EQ(list.jobs.size(), 2U);
  EXPECT_FALSE(list.jobs[0].is_lost);  // reading it says what is wrong
}

TEST_F(BatchJobs, AFolderBesideTheManifestChangesNothingAboutItsTakes) {
  made("b.wav"), made("a.wav"), made("day/.hidden.wav"), made("samples.raw");
  const auto rows =
      manifest("take,serial\nb.wav,HW-1\nsamples.raw,HW-3\na.wav,HW-1\nday/.hidden.wav,HW-4\ngone.wav,HW-5\n");
  const BatchList alone = batch_jobs({}, rows, std::nullopt);
  const BatchList beside = batch_jobs(given({fs::path(july()).parent_path().string()}), rows, std::nullopt);
  ASSERT_EQ(alone.jobs.size(), 5U);
  EXPECT_EQ(paths_of(beside.jobs), paths_of(alone.jobs));  // so the same take is an instrument's last
  EXPECT_TRUE(beside.not_given.empty());
}

TEST_F(BatchJobs, TakesOfTheManifestThatAreThereAndNotGivenAreToldAndLeftOut) {
  for (const char* name : {"a.wav", "b.wav", "c.wav"}) made(name);
  const BatchList list =
      batch_jobs(given({in("b.wav")}), manifest("take,serial\na.wav,1\nb.wav,2\nc.wav,3\n"), std::nullopt);
  EXPECT_EQ(paths_of(list.jobs), (Paths{in("b.wav")}));
  EXPECT_EQ(list.not_given, (Paths{"a.wav", "c.wav"}));
}

TEST_F(BatchJobs, ThePatternTellsOfTakesThatTheManifestDoesNotName) {
  const std::string named = made("HW-1_raw.wav");
  const BatchList list = batch_jobs(given({named, "HW-2_raw.wav", "notes.wav"}),
                                    manifest("take,serial\nHW-1_raw.wav,HW-9\n"), serial_pattern("{serial}_{stage}"));
  ASSERT_EQ(list.jobs.size(), 3U);
  EXPECT_EQ(list.jobs[0].subject.serial, "HW-9");  // the manifest before the name
  EXPECT_EQ(list.jobs[0].subject.stage, std::nullopt);
  EXPECT_EQ(list.jobs[1].subject.serial, "HW-2");
  EXPECT_EQ(list.jobs[1].subject.stage, "raw");
  EXPECT_EQ(list.jobs[1].why_not, "");
  EXPECT_EQ(list.jobs[2].subject.serial, std::nullopt);
  EXPECT_EQ(list.jobs[2].why_not,
            "the manifest " + july() + " does not name it, and its name does not fit the pattern '{serial}_{stage}'");
}

TEST_F(BatchJobs, ANameThatDoesNotFitThePatternIsListedWithTheReason) {
  const BatchList list = batch_jobs(given({"HW-1.wav"}), std::nullopt, serial_pattern("{serial}_{stage}"));
  ASSERT_EQ(list.jobs.size(), 1U);
  EXPECT_EQ(list.jobs[0].why_not, "its name does not fit the pattern '{serial}_{stage}'");
}

TEST_F(BatchJobs, WhereALineGivesNoSerialTheNameDoesAndTheRestOfTheLineStands) {
  made("HW-1_raw_2.wav"), made("b.wav");
  const auto rows = manifest("take,serial,stage,remark\nHW-1_raw_2.wav,,voiced,loud\nb.wav,HW-2,,\n");
  const BatchList list = batch_jobs({}, rows, serial_pattern("{serial}_{stage}_{retake}"));
  ASSERT_EQ(list.jobs.size(), 2U);
  EXPECT_EQ(list.jobs[0].subject.serial, "HW-1");
  EXPECT_EQ(list.jobs[0].subject.stage, "voiced");
  EXPECT_EQ(list.jobs[0].subject.retake, 2);
  EXPECT_EQ(list.jobs[0].subject.remark, "loud");
  EXPECT_EQ(list.jobs[0].why_not, "");
}

TEST_F(BatchJobs, ALineWithoutASerialAmongOthersWithOneIsListedNotGuessed) {
  made("a.wav"), made("b.wav");
  const BatchList list = batch_jobs({}, manifest("take,serial\na.wav,HW-1\nb.wav,\n"), std::nullopt);
  ASSERT_EQ(list.jobs.size(), 2U);
  EXPECT_EQ(list.jobs[0].why_not, "");
  EXPECT_EQ(list.jobs[1].why_not, "the manifest " + july() + ", line 3, gives no serial");
}

TEST_F(BatchJobs, AManifestThatGivesNoSerialAtAllLeavesEachTakeItsOwnInstrument) {
  made("a.wav"), made("b.wav");
  const BatchList list = batch_jobs({}, manifest("take,bore_temp_c\na.wav,20\nb.wav,21\n"), std::nullopt);
  ASSERT_EQ(list.jobs.size(), 2U);
  EXPECT_EQ(list.jobs[1].why_not, "");
  EXPECT_EQ(list.jobs[1].bore_temp_c, 21.0);
}

TEST_F(BatchJobs, AFolderWithoutTakesIsNotTakenForNoPathAtAll) {
  made("a.wav");
  fs::create_directory(in("empty"));
  const BatchList list = batch_jobs(given({in("empty")}), manifest("take,serial\na.wav,HW-1\n"), std::nullopt);
  EXPECT_TRUE(list.jobs.empty());
  EXPECT_EQ(list.not_given, Paths{"a.wav"});
}

}  // namespace
}  // namespace windway
