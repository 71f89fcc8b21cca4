// SPDX-License-Identifier: GPL-3.0-or-later
#include "takes/shard.hpp"

#include <gtest/gtest.h>

#include "support/random.hpp"

namespace windway {
namespace {

using Paths = std::vector<std::string>;

BatchJob job_of(const std::string& path, const std::string& serial = "") {
  BatchJob job;
  job.path = path;
  if (!serial.empty()) job.subject.serial = serial;
  return job;
}

std::vector<Paths> parts_of(const std::vector<BatchJob>& jobs, std::size_t count) {
  std::vector<Paths> parts(count);
  for (std::size_t number = 1; number <= count; ++number)
    for (const BatchJob& job : jobs_of_shard(jobs, {number, count})) parts[number - 1].push_back(job.path);
  return parts;
}

TEST(Shard, IsNamedByItsNumberAndHowManyThereAre) {
  const auto shard = shard_in("3/8");
  ASSERT_TRUE(shard);
  EXPECT_EQ(shard->number, 3U);
  EXPECT_EQ(shard->count, 8U);
  EXPECT_TRUE(shard_in("1/1"));
  for (const char* text : {"", "3", "/", "3/", "/8", "0/8", "9/8", "-1/8", "3/8/2", "a/b", " 3/8", "3.0/8"})
    EXPECT_FALSE(shard_in(text)) << text;
}

TEST(Shard, TakesOfOneSerialLieTogetherEachWithThePartThatHasFewest) {
  const std::vector<BatchJob> jobs{job_of("a1", "A"), job_of("b1", "B"), job_of("a2", "A"), job_of("x"),
                                   job_of("c1", "C"), job_of("a3", "A"), job_of("y"),       job_of("d1", "D")};
  // A (3) to the first; B, x and C (1 each) to the second; y to the first of equals; D to the second.
  EXPECT_EQ(parts_of(jobs, 2), (std::vector<Paths>{{"a1", "a2", "a3", "y"}, {"b1", "x", "c1", "d1"}}));
}

TEST(Shard, IsEmptyWhereThereAreMorePartsThanInstruments) {
  EXPECT_EQ(parts_of({job_of("a1", "A"), job_of("a2", "A")}, 3), (std::vector<Paths>{{"a1", "a2"}, {}, {}}));
}

TEST(Shard, PartsHoldEveryTakeOnceInTheOrderOfTheListAndAreMuchAlike) {
  synthesis::Random random(7);
  for (int round = 0; round < 50; ++round) {
    std::vector<BatchJob> jobs;
    for (int take = 0; take < 100; ++take) {
      const int serial = static_cast<int>(random.uniform(0, 60));
      jobs.push_back(job_of(std::to_string(take), serial == 0 ? "" : "HW-" + std::to_string(serial)));
    }
    const std::size_t count = 1 + static_cast<std::size_t>(random.uniform(0, 9));
    const auto parts = parts_of(jobs, count);
    std::size_t all = 0, most = 0, fewest = jobs.size();
    for (const Paths& part : parts) {
      for (std::size_t i = 1; i < part.size(); ++i) EXPECT_LT(std::stoi(part[i - 1]), std::stoi(part[i]));
      all += part.size(), most = std::max(most, part.size()), fewest = std::min(fewest, part.size());
    }
    EXPECT_EQ(all, jobs.size());
    EXPECT_LE(most - fewest, 8U);  // no serial has more takes
  }
}

}  // namespace
}  // namespace windway
