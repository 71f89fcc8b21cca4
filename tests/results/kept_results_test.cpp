// SPDX-License-Identifier: GPL-3.0-or-later
#include "results/kept_results.hpp"

#include <gtest/gtest.h>

#include <filesystem>

#include "error.hpp"
#include "report/lines/batch_line.hpp"
#include "report/lines/read_entry.hpp"
#include "written_file.hpp"

namespace windway {
namespace {

/// Takes that are no sound files: each has its line all the same, with why it could not be measured.
class TheKeptResults : public testing::Test {
 protected:
  std::string path() const { return folder_.path_of("bench.jsonl"); }
  BatchJob job_of(const std::string& name, const std::string& serial) const {
    BatchJob job;
    job.path = folder_.path_of(name);
    job.subject.serial = serial;
    if (!std::filesystem::exists(job.path)) test::write_bytes(job.path, "no sound: " + name);
    return job;
  }
  /// Does what is not done yet; gives how many that were.
  std::size_t run(std::vector<BatchJob> jobs, VerdictFrom from = VerdictFrom::last) const {
    Batch batch;
    if (tolerance_cents > 0) batch.limits.tolerance_cents = tolerance_cents;
    batch.rules = rules;
    batch.jobs = std::move(jobs);
    batch.verdict_from = from;
    const KeptResults kept = kept_results(path(), true, batch);
    std::size_t done = 0;
    for (std::size_t i = 0; i < batch.jobs.size(); ++i) {
      if (kept.done[i]) continue;
      kept.file->append(batch_line(judged_take(batch.jobs[i], batch), WINDWAY_VERSION));
      ++done;
    }
    return done;
  }
  std::vector<BenchEntry> entries() const {
    std::vector<BenchEntry> all;
    EntryReader reader;
    ResultsFile(path(), true).read_through([&](std::string_view line, LinePlace) {
      all.push_back(reader.read(line).value());
    });
    return all;
  }

  double tolerance_cents = 12;  ///< 0: none
  TallyRules rules;
  test::TemporaryFolder folder_;
};

TEST_F(TheKeptResults, StandWhereNothingHasChanged) {
  const std::vector<BatchJob> jobs{job_of("a.wav", "A"), job_of("b.wav", "B")};
  EXPECT_EQ(run(jobs), 2U);
  const std::string bytes = test::bytes_of(path());
  EXPECT_EQ(run(jobs), 0U);
  EXPECT_EQ(test::bytes_of(path()), bytes);
}

TEST_F(TheKeptResults, LieWhereTheyAreSaidToLie) {
  const std::vector<BatchJob> jobs{job_of("a.wav", "A"), job_of("b.wav", "B")};
  run(jobs);
  Batch batch;
  batch.limits.tolerance_cents = tolerance_cents;
  batch.jobs = {jobs[1], jobs[0]};
  const KeptResults kept = kept_results(path(), true, batch);
  for (std::size_t i : {0U, 1U}) {
    std::string line = kept.file->line_at(kept.done[i].value());
    line.pop_back();
    EXPECT_EQ(EntryReader().read(line).value().path, batch.jobs[i].path);
  }
}

TEST_F(TheKeptResults, OfATakeThatHasChangedGo) {
  const std::vector<BatchJob> jobs{job_of("a.wav", "A"), job_of("b.wav", "B")};
  run(jobs);
  test::write_bytes(jobs[0].path, "recorded anew");
  EXPECT_EQ(run(jobs), 1U);
  EXPECT_EQ(entries().size(), 2U);
}

TEST_F(TheKeptResults, ByAnotherToleranceGo) {
  const std::vector<BatchJob> jobs{job_of("a.wav", "A"), job_of("b.wav", "B")};
  run(jobs);
  tolerance_cents = 10;
  EXPECT_EQ(run(jobs), 2U);
  EXPECT_EQ(entries().size(), 2U);
}

TEST_F(TheKeptResults, OfOtherTakesStay) {
  run({job_of("a.wav", "A")});
  EXPECT_EQ(run({job_of("b.wav", "B")}), 1U);
  ASSERT_EQ(entries().size(), 2U);
  EXPECT_EQ(entries()[0].subject.serial, "A");
}

TEST_F(TheKeptResults, CountAnewOnceALaterTakeOfTheInstrumentHasCome) {
  run({job_of("a1.wav", "A")});
  run({job_of("b.wav", "B")});
  EXPECT_EQ(run({job_of("a2.wav", "A")}), 1U);
  const auto all = entries();
  ASSERT_EQ(all.size(), 3U);
  EXPECT_FALSE(all[0].counting.counts);
  EXPECT_EQ(all[0].counting.takes_of_subject, 2);
  EXPECT_TRUE(all[1].counting.counts);
  EXPECT_TRUE(all[2].counting.counts);
  EXPECT_EQ(all[2].counting.takes_of_subject, 2);
  EXPECT_EQ(run({job_of("a2.wav", "A")}, VerdictFrom::all), 0U);
  EXPECT_TRUE(entries()[0].counting.counts);
}

TEST_F(TheKeptResults, OfATakeThatIsGoneLeaveAndCountAgainstNoOther) {
  const BatchJob first = job_of("a1.wav", "A"), last = job_of("a2.wav", "A");
  run({first, last});
  ASSERT_FALSE(entries()[0].counting.counts);
  std::filesystem::remove(last.path);
  Batch batch;
  batch.limits.tolerance_cents = tolerance_cents;
  batch.jobs = {first};
  EXPECT_EQ(kept_results(path(), true, batch).gone, std::vector<std::string>{last.path});
  ASSERT_EQ(entries().size(), 1U);
  EXPECT_TRUE(entries()[0].counting.counts);
  EXPECT_EQ(entries()[0].counting.takes_of_subject, 1);
  EXPECT_EQ(run({first}), 0U);
}

TEST_F(TheKeptResults, OfATakeWhoseFolderIsAwayStay) {
  std::filesystem::create_directory(folder_.path_of("disk"));
  run({job_of("disk/a.wav", "A"), job_of("b.wav", "B")});
  std::filesystem::rename(folder_.path_of("disk"), folder_.path_of("elsewhere"));
  EXPECT_EQ(run({job_of("b.wav", "B")}), 0U);
  EXPECT_EQ(entries().size(), 2U);
}

TEST_F(TheKeptResults, OfALostTakeCountBesideALaterTakeAndAreMadeAnewOnceItIsThere) {
  BatchJob lost = job_of("a1.wav", "A");
  std::filesystem::rename(lost.path, folder_.path_of("kept"));
  lost.is_lost = true;
  lost.why_not = "there is no such file";
  const BatchJob later = job_of("a2.wav", "A");
  EXPECT_EQ(run({lost, later}), 2U);
  EXPECT_TRUE(entries()[0].counting.counts);
  EXPECT_TRUE(entries()[1].counting.counts);
  EXPECT_EQ(entries()[0].error, lost.why_not);
  EXPECT_EQ(run({lost, later}), 0U);
  std::filesystem::rename(folder_.path_of("kept"), lost.path);
  EXPECT_EQ(run({job_of("a1.wav", "A"), later}), 1U);
  for (const BenchEntry& entry : entries()) EXPECT_EQ(entry.counting.counts, entry.path == later.path);
}

TEST_F(TheKeptResults, RememberTheKeeperAndTheGroupsOfTheirOwnBatch) {
  tolerance_cents = 0;  // nothing is asked: so the keeper is measured by the same as all others
  rules = {.group_by = GroupBy::lot, .keeper = "A", .stage = std::nullopt};
  run({job_of("a.wav", "A"), job_of("b.wav", "B")});
  ASSERT_EQ(entries().size(), 2U);
  EXPECT_TRUE(entries()[0].counting.keeper);
  EXPECT_FALSE(entries()[1].counting.keeper);
  EXPECT_EQ(entries()[1].counting.group_by, GroupBy::lot);
  rules = {.group_by = GroupBy::head, .keeper = "B", .stage = std::nullopt};
  EXPECT_EQ(run({job_of("b.wav", "B")}), 0U);
  EXPECT_TRUE(entries()[0].counting.keeper);  // of another batch
  EXPECT_EQ(entries()[0].counting.group_by, GroupBy::lot);
  EXPECT_TRUE(entries()[1].counting.keeper);
  EXPECT_EQ(entries()[1].counting.group_by, GroupBy::head);
}

TEST_F(TheKeptResults, SetHowTheJobsCount) {
  run({job_of("a1.wav", "A")});
  Batch batch;
  batch.jobs = {job_of("a2.wav", "A"), job_of("a3.wav", "A")};
  kept_results(path(), true, batch);
  EXPECT_FALSE(batch.jobs[0].counting.counts);
  EXPECT_TRUE(batch.jobs[1].counting.counts);
  EXPECT_EQ(batch.jobs[1].counting.takes_of_subject, 3);
}

TEST_F(TheKeptResults, AreNotSoughtWithoutAFile) {
  Batch batch;
  batch.jobs = {job_of("a1.wav", "A"), job_of("a2.wav", "A")};
  const KeptResults kept = kept_results("", false, batch);
  EXPECT_EQ(kept.file, nullptr);
  EXPECT_FALSE(kept.done.at(0) || kept.done.at(1));
  EXPECT_FALSE(batch.jobs[0].counting.counts);
}

TEST_F(TheKeptResults, AreRefusedWhereALineIsNone) {
  test::write_bytes(path(), "{}\n");
  Batch batch;
  try {
    kept_results(path(), true, batch);
    FAIL();
  } catch (const Error& error) {
    EXPECT_EQ(error.kind(), ErrorKind::usage);
    EXPECT_EQ(error.what(), path() + ", line 1: is not a result of windway batch; name another file for --results");
  }
  EXPECT_EQ(test::bytes_of(path()), "{}\n");
}

}  // namespace
}  // namespace windway
