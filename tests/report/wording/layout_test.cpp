// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/wording/layout.hpp"

#include <gtest/gtest.h>

#include <sstream>

namespace windway {
namespace {

TEST(DisplayWidth, CountsColumnsAndNotBytes) {
  EXPECT_EQ(display_width("B♭5"), 3u);
  EXPECT_EQ(display_width("± 0.1"), 5u);
}

// Unicode Standard Annex 11 and the combining diacritical marks U+0300 to U+036F.
TEST(DisplayWidth, CountsWideCharactersTwiceAndCombiningMarksNot) {
  EXPECT_EQ(display_width("笛"), 2u);
  EXPECT_EQ(display_width("e\u0301"), 1u);
}

TEST(DisplayWidth, CountsEachByteThatIsNoUtf8AsOneColumn) {
  EXPECT_EQ(display_width("a\xff\x80z"), 4u);
  EXPECT_EQ(display_width("\xe7\xac"), 2u);
}

TEST(Table, PutsColumnsBelowEachOtherWhateverTheBytes) {
  EXPECT_EQ(table({{"note"}, {"cents", true}}, {{"B♭5", "+1.5"}, {"Bb5", "-12.5"}}),
            "  note  cents\n"
            "  B♭5    +1.5\n"
            "  Bb5   -12.5\n");
}

// Marks of General Category Mn (Devanagari U+0941, Thai U+0E34, Hebrew U+05B4) take no column, U+1F3B5 and kana take
// two.
TEST(Table, LinesUpZeroWidthMarksAndWideCharacters) {
  EXPECT_EQ(table({{"take"}, {"cents", true}}, {{"\u092A\u0941\u0930", "+1"},
                                                {"\u0E1B\u0E34", "+2"},
                                                {"\u05D2\u05B4\u05DC", "+3"},
                                                {"\U0001F3B5", "+4"},
                                                {"ふえ", "+5"}}),
            "  take  cents\n"
            "  \u092A\u0941\u0930       +1\n"
            "  \u0E1B\u0E34        +2\n"
            "  \u05D2\u05B4\u05DC       +3\n"
            "  \U0001F3B5       +4\n"
            "  ふえ     +5\n");
}

TEST(Table, EndsNoLineWithSpaces) {
  EXPECT_EQ(table({{"note"}, {"then blow"}}, {{"D5", "softer"}}), "  note  then blow\n  D5    softer\n");
}

TEST(Wrapped, KeepsWithinTheColumnsAndLosesNoWord) {
  std::string text = "warning:";
  for (int word = 0; word < 60; ++word) text += " wörd" + std::to_string(word);
  std::istringstream lines(wrapped(text, 2));
  std::string line, joined;
  while (std::getline(lines, line)) {
    EXPECT_LE(display_width(line), text_columns);
    EXPECT_TRUE(joined.empty() || line.starts_with("  w"));
    joined += joined.empty() ? line : line.substr(1);
  }
  EXPECT_EQ(joined, text);
}

TEST(Wrapped, KeepsTheFirstIndent) { EXPECT_EQ(wrapped("  cents from"), "  cents from\n"); }

TEST(Wrapped, LeavesAWordThatIsTooLongWhole) {
  const std::string path(140, 'x');
  EXPECT_EQ(wrapped("see " + path), "see\n" + path + "\n");
}

TEST(Wrapped, KeepsAFigureWithItsSignAndItsUnit) {
  const std::string full(70, 'x');
  EXPECT_EQ(wrapped(full + " one in 12 s."), full + " one in\n12 s.\n");
  EXPECT_EQ(wrapped(full + " cents (± 0.1)"), full + " cents\n(± 0.1)\n");
}

TEST(Wrapped, KeepsToTheColumnsAskedFor) {
  EXPECT_EQ(wrapped("one two three four", 2, 9), "one two\n  three\n  four\n");
  EXPECT_EQ(wrapped("one two three four", 2, 18), "one two three four\n");
}

TEST(Wrapped, KeepsQuotedWordsTogether) {
  const std::string full(70, 'x');
  EXPECT_EQ(wrapped(full + " read 'New take.m4a'; end"), full + " read\n'New take.m4a'; end\n");
  EXPECT_EQ(wrapped("the head's place", 0, 10), "the head's\nplace\n");
  EXPECT_EQ(wrapped("an 'open quote ends nowhere", 0, 14), "an 'open quote\nends nowhere\n");
}

TEST(Wrapped, KeepsACommandToTypeOnOneLine) {
  const std::string command = "windway measure my-scale.wav --a4 441.3";
  EXPECT_EQ(wrapped("To set a flute by it: " + command, 2, 50), "To set a flute by it:\n  " + command + "\n");
  EXPECT_EQ(wrapped("convert it: ffmpeg -i a.m4a b.flac; then ask", 2, 29),
            "convert it:\n  ffmpeg -i a.m4a b.flac;\n  then ask\n");
}

TEST(Fits, IsWhatTheWidestLineDoes) {
  EXPECT_TRUE(fits("± 0.4\nabc\n", 5));
  EXPECT_FALSE(fits("± 0.4\nabc\n", 4));
  EXPECT_TRUE(fits("", 0));
}

TEST(Table, LeavesOutWhatMayGoUntilItFits) {
  const std::vector<Column> columns{{"note"}, {"times", true, 1}, {"mean", true}, {"SD", true, 2}, {"n", true, 2}};
  const std::vector<std::vector<std::string>> rows{{"D5", "3", "+1.5", "0.4", "7"}};
  EXPECT_EQ(table(columns, rows, 27), "  note  times  mean   SD  n\n  D5        3  +1.5  0.4  7\n");
  EXPECT_EQ(table(columns, rows, 26), "  note  times  mean\n  D5        3  +1.5\n");  // SD and n go together
  EXPECT_EQ(table(columns, rows, 18), "  note  mean\n  D5    +1.5\n");
  EXPECT_EQ(table(columns, rows, 3), "  note  mean\n  D5    +1.5\n");
}

TEST(Wrapped, OfNothingIsAnEmptyLine) { EXPECT_EQ(wrapped(""), "\n"); }

}  // namespace
}  // namespace windway
