// SPDX-License-Identifier: GPL-3.0-or-later
#include "results/judge_take.hpp"

#include <gtest/gtest.h>

namespace windway {
namespace {

const std::string sample = WINDWAY_SAMPLES_DIR "/takes/hw-0412-steps.flac";

Batch batch_within(double tolerance_cents) {
  Batch batch;
  batch.limits.tolerance_cents = tolerance_cents;
  return batch;
}

BatchJob job_of(const std::string& path) {
  BatchJob job;
  job.path = path;
  job.subject.serial = "HW-0412";
  job.subject.stage = "final";
  return job;
}

TEST(JudgeTake, MeasuresAndJudgesATakeByTheLimits) {
  const JudgedTake take = judged_take(job_of(sample), batch_within(40));
  EXPECT_EQ(take.error, "");
  EXPECT_EQ(take.sha256.size(), 64U);
  EXPECT_EQ(take.sha256, take.measurement.takes.at(0).sha256);
  EXPECT_GE(take.measurement.breath.notes.size(), 7U);
  EXPECT_EQ(take.verdict.value().result, VerdictResult::pass);
  EXPECT_EQ(judged_take(job_of(sample), batch_within(0.1)).verdict.value().result, VerdictResult::fail);
}

TEST(JudgeTake, JudgesNothingWhereNothingIsAsked) { EXPECT_FALSE(judged_take(job_of(sample), {}).verdict); }

TEST(JudgeTake, MeasuresTheKeeperAndOtherStagesWithoutAVerdict) {
  Batch batch = batch_within(12);
  batch.rules.keeper = "HW-0412";
  EXPECT_FALSE(judged_take(job_of("/nowhere/a.wav"), batch).verdict);
  batch = batch_within(12);
  batch.rules.stage = "raw";
  EXPECT_FALSE(judged_take(job_of("/nowhere/a.wav"), batch).verdict);
  batch.rules.stage = "final";
  EXPECT_TRUE(judged_take(job_of("/nowhere/a.wav"), batch).verdict);
}

TEST(JudgeTake, SaysWhyATakeCouldNotBeMeasured) {
  const JudgedTake take = judged_take(job_of("/nowhere/a.wav"), batch_within(12));
  EXPECT_NE(take.error.find("/nowhere/a.wav"), std::string::npos) << take.error;
  EXPECT_EQ(take.sha256, "");
  EXPECT_EQ(take.verdict.value().result, VerdictResult::not_measured);
  EXPECT_EQ(take.subject.serial, "HW-0412");
}

TEST(JudgeTake, RefusesAHeadFartherOutThanItGoes) {
  Batch batch = batch_within(12);
  batch.settings.head.travel_mm = 6;
  BatchJob job = job_of(sample);
  job.head_out_mm = 13;  // a slip of the pen for 1.3
  const JudgedTake take = judged_take(job, batch);
  EXPECT_EQ(take.error, "its head_out_mm in the manifest is 13 mm, but its head goes 6 mm out at most");
  EXPECT_EQ(take.verdict.value().result, VerdictResult::not_measured);
  EXPECT_EQ(take.sha256.size(), 64U);
}

TEST(JudgeTake, DoesNotMeasureWhatNobodyHasNamed) {
  BatchJob job = job_of(sample);
  job.why_not = "the manifest does not name it";
  const JudgedTake take = judged_take(job, batch_within(12));
  EXPECT_EQ(take.error, "the manifest does not name it");
  EXPECT_TRUE(take.measurement.takes.empty());
}

TEST(JudgeTake, GivesTheManifestsFiguresOfATakeBeforeThoseOfTheCall) {
  Batch batch = batch_within(12);
  batch.settings.air.temperature_c = 25;
  BatchJob job = job_of("/nowhere/a.wav");
  job.bore_temp_c = 18;
  job.head_out_mm = 2;
  const MeasureSettings settings = judged_take(job, batch).measurement.settings;
  EXPECT_EQ(settings.air.temperature_c, 18);
  EXPECT_EQ(settings.head.out_mm, 2);
}

TEST(KeyOf, ATakeChangesWithWhatItIsMeasuredAndJudgedBy) {
  const Batch batch = batch_within(12);
  const BatchJob job = job_of(sample);
  const std::string key = key_of(job, batch);
  EXPECT_EQ(key.size(), 16U);
  EXPECT_EQ(key, judged_take(job_of(sample), batch).settings_key);
  BatchJob colder = job;
  colder.bore_temp_c = 18;
  EXPECT_NE(key_of(colder, batch), key);
  BatchJob renamed = job;
  renamed.subject.serial = "HW-0413";
  EXPECT_NE(key_of(renamed, batch), key);
  BatchJob unnamed = job;
  unnamed.why_not = "the manifest does not name it";
  EXPECT_NE(key_of(unnamed, batch), key);
  EXPECT_NE(key_of(job, batch_within(13)), key);
}

TEST(KeyOf, ATakeIsTheSameHoweverItCounts) {
  const Batch batch = batch_within(12);
  BatchJob job = job_of(sample);
  const std::string key = key_of(job, batch);
  job.counting.counts = false;
  job.counting.takes_of_subject = 3;
  EXPECT_EQ(key_of(job, batch), key);
}

TEST(KeyOf, TheKeeperDoesNotHangOnTheTolerance) {
  Batch narrow = batch_within(5), wide = batch_within(50);
  narrow.rules.keeper = wide.rules.keeper = "HW-0412";
  EXPECT_EQ(key_of(job_of(sample), narrow), key_of(job_of(sample), wide));
}

}  // namespace
}  // namespace windway
