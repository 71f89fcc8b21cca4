// SPDX-License-Identifier: GPL-3.0-or-later
#include "results/saved_lines.hpp"

#include <gtest/gtest.h>

#include <cstdio>

#include "error.hpp"
#include "report/lines/made_up_line.hpp"
#include "written_file.hpp"

namespace windway {
namespace {

using report_tests::judged_take;
using report_tests::line_of;

class TheSavedLines : public testing::Test {
 protected:
  std::string file_of(const std::string& name, const std::string& bytes) const {
    test::write_bytes(folder_.path_of(name), bytes);
    return folder_.path_of(name);
  }
  std::size_t read(const std::vector<std::string>& files) {
    return SavedLines(files).read(
        [this](const BenchEntry& entry, std::string_view) {
          serials.push_back(entry.subject.serial.value());
          entries.push_back(entry);
        },
        [this](const std::string& warning) { warnings.push_back(warning); });
  }

  std::vector<std::string> serials, warnings;
  std::vector<BenchEntry> entries;

 private:
  test::TemporaryFolder folder_;
};

std::string line_of_serial(const std::string& serial) {
  JudgedTake take = judged_take();
  take.subject.serial = serial;
  return line_of(take) + "\n";
}

TEST_F(TheSavedLines, OfSeveralFilesComeInOrder) {
  const std::string b = file_of("b.jsonl", line_of_serial("B1") + line_of_serial("B2"));
  const std::string a = file_of("a.jsonl", line_of_serial("A"));
  EXPECT_EQ(read({b, a}), 0U);
  EXPECT_EQ(serials, (std::vector<std::string>{"B1", "B2", "A"}));
  EXPECT_TRUE(warnings.empty());
}

TEST_F(TheSavedLines, ThatAreNoneAreCountedAndNamedByFileAndLine) {
  const std::string path = file_of("x.jsonl", "{}\n" + line_of_serial("A") + R"({"schema":"windway.mea)");
  EXPECT_EQ(read({path}), 2U);
  EXPECT_EQ(serials, std::vector<std::string>{"A"});
  ASSERT_EQ(warnings.size(), 2U);
  EXPECT_EQ(warnings[0], path + ", line 1: is not a result of windway batch; it is left out");
  EXPECT_EQ(warnings[1].rfind(path + ", line 3: is cut off", 0), 0U) << warnings[1];
}

TEST_F(TheSavedLines, WarnOfTheFirstFiveAndCountTheRest) {
  EXPECT_EQ(read({file_of("x.jsonl", "\n\n\n\n\n\n\n")}), 7U);
  ASSERT_EQ(warnings.size(), 6U);
  EXPECT_EQ(warnings.back(), "and 2 more such lines");
}

/// A retake recorded that day.
std::string line_of_retake(const std::string& serial, const std::string& day, const std::string& content) {
  JudgedTake take = judged_take();
  take.subject.serial = serial;
  take.subject.recorded_at = day;
  take.sha256 = take.measurement.takes[0].sha256 = std::string(64, content.front());
  return line_of(take) + "\n";
}

TEST_F(TheSavedLines, CountALaterDaysRetakeInPlaceOfTheEarlierWhateverTheFiles) {
  const std::string later = file_of("later.jsonl", line_of_retake("A", "2026-03-05", "b"));
  const std::string first = file_of("first.jsonl", line_of_retake("A", "2026-03-02", "a") + line_of_serial("B"));
  for (const auto& files : {std::vector{later, first}, std::vector{first, later}}) {
    entries.clear();
    read(files);
    for (const BenchEntry& entry : entries) {
      const bool is_later = entry.subject.recorded_at == "2026-03-05";
      EXPECT_EQ(entry.counting.counts, is_later || entry.subject.serial == "B");
      EXPECT_EQ(entry.counting.is_first, !is_later);
      EXPECT_EQ(entry.counting.takes_of_subject, entry.subject.serial == "A" ? 2 : 1);
    }
  }
}

TEST_F(TheSavedLines, OfOneRecordingToldTwiceCountOnce) {
  const std::string path = file_of("a.jsonl", line_of_serial("A") + line_of_serial("B"));
  read({path, path});
  ASSERT_EQ(entries.size(), 4U);
  for (std::size_t i = 0; i < 4; ++i) {
    EXPECT_EQ(entries[i].counting.is_told_twice, i < 2);
    EXPECT_EQ(entries[i].counting.counts, i >= 2);
    EXPECT_TRUE(i < 2 || entries[i].counting.takes_of_subject == 1);
  }
}

TEST_F(TheSavedLines, OfABatchThatCountsEveryTakeAllCount) {
  std::string lines;
  for (const char* content : {"a", "b"}) {
    JudgedTake take = judged_take();
    take.path = take.measurement.takes[0].path = std::string(content) + ".wav";
    take.sha256 = take.measurement.takes[0].sha256 = std::string(64, *content);
    take.counting.from = VerdictFrom::all;
    lines += line_of(take) + "\n";
  }
  read({file_of("a.jsonl", lines)});
  ASSERT_EQ(entries.size(), 2U);
  for (const BenchEntry& entry : entries) EXPECT_TRUE(entry.counting.counts && !entry.counting.is_told_twice);
}

TEST_F(TheSavedLines, OfAPipeAreReadAsThoseOfAFile) {
  const std::string path =
      file_of("a.jsonl", line_of_retake("A", "2026-03-02", "a") + line_of_retake("A", "2026-03-05", "b"));
  std::FILE* pipe = popen(("cat '" + path + "'").c_str(), "r");
  ASSERT_NE(pipe, nullptr);
  read({"/dev/fd/" + std::to_string(fileno(pipe))});
  pclose(pipe);
  ASSERT_EQ(entries.size(), 2U);
  EXPECT_FALSE(entries[0].counting.counts);
  EXPECT_TRUE(entries[1].counting.counts);
}

TEST_F(TheSavedLines, OfAFileThatIsNotThereAreAnErrorOfTheRecording) {
  try {
    read({"/nowhere/x.jsonl"});
    FAIL();
  } catch (const Error& error) {
    EXPECT_EQ(error.kind(), ErrorKind::recording);
    EXPECT_STREQ(error.what(), "cannot read /nowhere/x.jsonl: No such file or directory");
  }
}

}  // namespace
}  // namespace windway
