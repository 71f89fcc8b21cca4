// SPDX-License-Identifier: GPL-3.0-or-later
// Whatever comes as a line, a pattern or a manifest, it is read or refused: nothing falls over.
#include "report/lines/read_entry.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <random>
#include <utility>

#include "error.hpp"
#include "manifest/manifest.hpp"
#include "manifest/serial_pattern.hpp"
#include "report/bench/bench_csv.hpp"
#include "report/lines/made_up_line.hpp"

namespace windway {
namespace {

using report_tests::judged_take;
using report_tests::line_of;

std::string with(std::string text, const std::string& from, const std::string& to) {
  const auto at = text.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  return text.replace(at, from.size(), to);
}

TEST(EntryReader, ReadsOneLineAfterTheOther) {
  EntryReader reader;
  const std::string line = line_of(judged_take());
  for (int i = 0; i < 3; ++i) {
    EXPECT_EQ(reader.read(line).value().notes.size(), 4U);
    EXPECT_FALSE(reader.read("no result"));
  }
}

TEST(EntryReader, RefusesALineCutShortAnywhere) {
  const std::string line = line_of(judged_take());
  EntryReader reader;
  for (std::size_t length = 0; length < line.size(); ++length)
    ASSERT_FALSE(reader.read(line.substr(0, length))) << line.substr(length > 60 ? length - 60 : 0, 60);
  EXPECT_TRUE(reader.read(line));
}

TEST(EntryReader, RefusesJsonThatIsNoResult) {
  const std::string line = line_of(judged_take());
  EntryReader reader;
  for (const char* other : {"", " ", "null", "[]", "{}", "42", "\"x\"", R"({"schema":"windway.measurement.v1"})"})
    EXPECT_FALSE(reader.read(other)) << other;
  EXPECT_FALSE(reader.read(with(line, "measurement.v1", "measurement.v2")));
  EXPECT_FALSE(reader.read(with(line, "\"counts\":true", "\"counts\":1")));
  EXPECT_FALSE(reader.read(with(line, "\"lowest\":\"D5\"", "\"lowest\":\"X5\"")));
}

TEST(EntryReader, RefusesNullWhereTheFieldSaysThatThereIsNone) {
  const auto json = nlohmann::ordered_json::parse(line_of(judged_take()));
  const auto is_read_without = [&](const char* place) {
    auto damaged = json;
    damaged[nlohmann::ordered_json::json_pointer(place)] = nullptr;
    return EntryReader().read(damaged.dump()).has_value();
  };
  for (const char* needed : {"/settings/a4_hz", "/notes/0/weight", "/notes/0/register", "/notes/0/moderate_u95_cents",
                             "/notes/0/moved/cents", "/compromise/slide_u95_mm", "/compromise/home_a4_hz"})
    EXPECT_FALSE(is_read_without(needed)) << needed;
  for (const char* optional : {"/settings/quote_at_c", "/settings/head_out_mm", "/notes/0/spread_cents",
                               "/notes/0/moved", "/notes/0/effective_length_mm", "/takes/0/sha256", "/compromise"})
    EXPECT_TRUE(is_read_without(optional)) << optional;
}

TEST(EntryReader, RefusesANoteThatNoKeyIsOf) {
  const std::string line = line_of(judged_take());
  const auto notes = line.find("\"notes\":");
  for (const char* midi : {"-7", "128", "1e300", "4294967370"})
    EXPECT_FALSE(EntryReader().read(line.substr(0, notes) +
                                    with(line.substr(notes), "\"midi\":74", std::string("\"midi\":") + midi)))
        << midi;
  EXPECT_FALSE(EntryReader().read(with(line, "\"midi\":74", "\"midi\":1e300")));  // of the verdict
}

TEST(EntryReader, SurvivesALineWhosePartsAreShuffled) {
  const std::string line = line_of(judged_take());
  std::mt19937 random(1);
  EntryReader reader;
  for (int trial = 0; trial < 20000; ++trial) {
    std::string shuffled = line;
    for (std::size_t change = random() % 6; change < 6; ++change) {
      const std::size_t at = random() % shuffled.size();
      random() % 2 == 0 ? shuffled.erase(at, 1 + random() % 40)
                        : shuffled.insert(at, std::string(shuffled, random() % shuffled.size(), random() % 200));
    }
    reader.read(shuffled);
    reader.order(shuffled);
  }
}

TEST(EntryReader, RefusesFiguresThatCannotBe) {
  const std::string line = line_of(judged_take());
  for (const auto& [from, to] : {std::pair{R"("slide_u95_mm":0.08)", R"("slide_u95_mm":-0.08)"},
                                 std::pair{R"("home_a4_hz":442.02)", R"("home_a4_hz":0)"},
                                 std::pair{R"("slide_mm":1.24)", R"("slide_mm":1e300)"}})
    EXPECT_FALSE(EntryReader().read(with(line, from, to))) << to;
}

TEST(EntryReader, SurvivesAnyBytes) {
  std::mt19937 random(1);
  EntryReader reader;
  for (int i = 0; i < 3000; ++i) {
    std::string bytes(random() % 200, '\0');
    for (char& byte : bytes) byte = i % 2 == 0 ? static_cast<char>(random()) : "{}[]\",:\\0e-n "[random() % 13];
    EXPECT_FALSE(reader.read(bytes));
  }
}

TEST(EntryReader, GivesOfAMutatedLineNothingOrWhatCanBeWrittenOut) {
  std::mt19937 random(2);
  const std::string line = line_of(judged_take());
  EntryReader reader;
  int read = 0;
  for (int i = 0; i < 4000; ++i) {
    std::string mutated = line;
    for (auto change = random() % 3 + 1; change > 0; --change) {
      char& byte = mutated[random() % mutated.size()];
      byte = random() % 2 == 0 ? static_cast<char>(random()) : "0123456789-{}[]\",:"[random() % 18];
    }
    if (const auto entry = reader.read(mutated)) {
      ++read;
      EXPECT_FALSE(BenchCsv().add(*entry).empty());
    }
  }
  EXPECT_GT(read, 100);  // most of a line's bytes are figures and holds
}

TEST(ManifestFromCsv, IsReadOrRefusedOfAnyText) {
  std::mt19937 random(3);
  const std::string whole =
      "take,serial,retake,head_out_mm,recorded_at,own\n\"a,1.wav\",A,2,3.5,2026-11-25,\"x\"\"y\"\nb.wav,,,,,\n";
  int accepted = 0;
  for (int i = 0; i < 5000; ++i) {
    std::string text = whole.substr(0, i % 3 == 0 ? random() % whole.size() : whole.size());
    for (auto change = random() % 3; change > 0 && !text.empty(); --change)
      text[random() % text.size()] = i % 2 == 0 ? static_cast<char>(random()) : "\",;\n\r\t 0"[random() % 8];
    try {
      for (const ManifestRow& row : manifest_from_csv(text, "x").rows) EXPECT_FALSE(row.take.empty());
      ++accepted;
    } catch (const Error& error) {
      EXPECT_EQ(error.kind(), ErrorKind::usage);
    }
  }
  EXPECT_GT(accepted, 500);
  EXPECT_LT(accepted, 4500);
}

TEST(SerialPatternOf, IsReadOrRefusedOfAnyTextAndSoIsAnyName) {
  std::mt19937 random(4);
  const std::vector<std::string> parts{"{serial}", "{stage}", "{retake}",           "{",   "}", "_", "-",
                                       "a",        "\xff",    std::string(1, '\0'), "{x}", "/"};
  int read = 0;
  for (int i = 0; i < 20000; ++i) {
    std::string pattern;
    std::string name;
    for (auto part = random() % 6; part > 0; --part) pattern += parts[random() % parts.size()];
    for (auto letter = random() % 12; letter > 0; --letter) name += "a_-1./\xff"[random() % 7];
    try {
      const NameReading reading = subject_of(serial_pattern(pattern), name);
      EXPECT_NE(reading.subject.has_value(), !reading.why_not.empty());
      if (reading.subject) {
        EXPECT_FALSE(reading.subject->serial.value().empty());
      }
      read += reading.subject.has_value();
    } catch (const Error& error) {
      EXPECT_EQ(error.kind(), ErrorKind::usage);
    }
  }
  EXPECT_GT(read, 100);
}

}  // namespace
}  // namespace windway
