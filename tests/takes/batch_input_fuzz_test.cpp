// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <array>
#include <sstream>

#include "error.hpp"
#include "support/random.hpp"
#include "takes/jobs.hpp"
#include "units/utf8.hpp"

namespace windway {
namespace {

constexpr int rounds = 4000;

std::size_t drawn(synthesis::Random& random, std::size_t count) {
  return static_cast<std::size_t>(random.uniform(0.0, static_cast<double>(count)));
}

/// Bytes and, so that they get past the first line, words that such a text may have.
template <std::size_t n>
std::string garbage(synthesis::Random& random, const std::array<const char*, n>& words) {
  std::string text;
  for (std::size_t pieces = drawn(random, 40); pieces > 0; --pieces)
    text += random.chance(0.25) ? std::string(1, static_cast<char>(drawn(random, 256))) : words[drawn(random, n)];
  return text;
}

TEST(BatchInput, ManifestsOfRandomBytesAreReadOrRefusedInWords) {
  constexpr std::array words{"take", ",",          ",",           ";",           "\n",     "\n", "\r\n",
                             "\"",   "serial",     "a.wav",       "b.wav",       "retake", "7",  "head_out_mm",
                             "-1",   "2026-11-25", "recorded_at", "bore_temp_c", "22,5",   "\t", " "};
  synthesis::Random random(1);
  int read = 0;
  int refused = 0;
  for (int round = 0; round < rounds; ++round) {
    const std::string text = (random.chance(0.5) ? "take,retake\n" : "") + garbage(random, words);
    try {
      for (const ManifestRow& row : manifest_from_csv(text, "m.csv").rows) {
        EXPECT_TRUE(!row.take.empty() && is_utf8(row.take) && row.line > 0) << text;
        EXPECT_TRUE(!row.head_out_mm || (*row.head_out_mm >= 0 && *row.head_out_mm <= 100)) << text;
      }
      ++read;
    } catch (const Error& mistake) {
      EXPECT_EQ(mistake.kind(), ErrorKind::usage);
      EXPECT_TRUE(std::string(mistake.what()).starts_with("m.csv")) << mistake.what();
      EXPECT_TRUE(is_utf8(mistake.what())) << text;
      ++refused;
    }
  }
  EXPECT_GT(read, 10);  // else the texts would all be refused at their first byte
  EXPECT_GT(refused, 1000);
}

TEST(BatchInput, PatternsAndNamesOfRandomBytesAreReadOrRefusedInWords) {
  constexpr std::array words{"{serial}", "{serial}", "{stage}", "{retake}", "{lot}", "{", "}", "_", "-", "a", "1", "."};
  constexpr std::array name_words{"_", "-", "a", "1", ".", "/", "a_1"};
  synthesis::Random random(2);
  int read = 0;
  for (int round = 0; round < rounds; ++round) {
    const std::string text = garbage(random, words).substr(0, 24);
    try {
      const SerialPattern pattern = serial_pattern(random.chance(0.5) ? "{serial}_{retake}" : text);
      const NameReading reading = subject_of(pattern, garbage(random, name_words));
      EXPECT_NE(reading.subject.has_value(), !reading.why_not.empty());
      if (!reading.subject) continue;
      ASSERT_TRUE(reading.subject->serial);
      EXPECT_TRUE(!reading.subject->serial->empty() && is_utf8(*reading.subject->serial));
      ++read;
    } catch (const Error& mistake) {
      EXPECT_EQ(mistake.kind(), ErrorKind::usage);
    }
  }
  EXPECT_GT(read, 10);
}

TEST(BatchInput, ListsOfRandomBytesGivePathsWithoutZeroBytes) {
  constexpr std::array words{"a.wav", "\n", "\r\n", " "};
  synthesis::Random random(3);
  for (int round = 0; round < rounds; ++round) {
    std::istringstream list(garbage(random, words));
    for (const std::string& path : listed_paths(list))
      EXPECT_TRUE(!path.empty() && path.find('\0') == std::string::npos);
  }
}

TEST(Utf8, IsWhatRfc3629Says) {
  using std::string_literals::operator""s;
  for (const char* text : {"", "plain", "\xC3\xBC", "\xE2\x99\xAF", "\xF0\x9D\x84\x9E", "\xF4\x8F\xBF\xBF"})
    EXPECT_TRUE(is_utf8(text)) << text;
  for (const char* text : {"\xFC", "\xC3", "\xC0\xAF", "\xED\xA0\x80", "\xF4\x90\x80\x80", "a\x80", "\xE2\x99"})
    EXPECT_FALSE(is_utf8(text)) << text;
  EXPECT_FALSE(is_utf8("a\0b"s));
}

}  // namespace
}  // namespace windway
