// SPDX-License-Identifier: GPL-3.0-or-later
#include "manifest/csv_table.hpp"

#include <gtest/gtest.h>

#include "error.hpp"

namespace windway {
namespace {

using Cells = std::vector<std::string>;

std::vector<CsvTableRow> rows_of(const std::string& text, char separator = ',') {
  return csv_rows(text, separator, "bench.csv");
}

TEST(CsvTable, ReadsRowsWithAndWithoutALastLineFeed) {
  for (const char* text : {"a,b\n1,2\n", "a,b\n1,2", "a,b\r\n1,2\r\n", "a,b\r\n1,2"}) {
    const auto rows = rows_of(text);
    ASSERT_EQ(rows.size(), 2U) << text;
    EXPECT_EQ(rows[0].cells, (Cells{"a", "b"}));
    EXPECT_EQ(rows[1].cells, (Cells{"1", "2"}));
  }
}

TEST(CsvTable, KeepsSeparatorsQuotesAndLineFeedsWithinQuotes) {
  const auto rows = rows_of("\"a,b\",\"say \"\"ah\"\"\",\"two\nlines\"\n");
  ASSERT_EQ(rows.size(), 1U);
  EXPECT_EQ(rows[0].cells, (Cells{"a,b", "say \"ah\"", "two\nlines"}));
}

TEST(CsvTable, KeepsEmptyCellsAndLeavesOutEmptyLines) {
  const auto rows = rows_of("a,,\n\n   \n,,c\n");
  ASSERT_EQ(rows.size(), 2U);
  EXPECT_EQ(rows[0].cells, (Cells{"a", "", ""}));
  EXPECT_EQ(rows[1].cells, (Cells{"", "", "c"}));
}

TEST(CsvTable, KnowsInWhichLineEachRowBegins) {
  const auto rows = rows_of("a\n\n\"x\ny\",\"\"\"\"\nb\r\n\r\nc");
  ASSERT_EQ(rows.size(), 4U);
  EXPECT_EQ(rows[0].line, 1);
  EXPECT_EQ(rows[1].line, 3);
  EXPECT_EQ(rows[2].line, 5);
  EXPECT_EQ(rows[3].line, 7);
}

TEST(CsvTable, CountsLinesThatEndInACarriageReturnAlone) {
  const auto rows = rows_of("a,b\r1,2\r3,4\r");
  ASSERT_EQ(rows.size(), 3U);
  EXPECT_EQ(rows[1].cells, (Cells{"1", "2"}));
  EXPECT_EQ(rows[1].line, 2);
  EXPECT_EQ(rows[2].line, 3);
}

TEST(CsvTable, SeparatesByWhatItIsTold) {
  EXPECT_EQ(rows_of("a;1,5\n", ';').at(0).cells, (Cells{"a", "1,5"}));
  EXPECT_EQ(rows_of("a\tb c\n", '\t').at(0).cells, (Cells{"a", "b c"}));
}

TEST(CsvTable, RefusesAQuoteThatIsNotClosedOrStandsInsideACell) {
  for (const char* text : {"a\n\"b", "a\n\"b\"c\n", "a\nb\"c\n", "a\nb\"c\"\n"}) {
    try {
      rows_of(text);
      FAIL() << text;
    } catch (const Error& error) {
      EXPECT_EQ(error.kind(), ErrorKind::usage);
      EXPECT_NE(std::string(error.what()).find("bench.csv, line "), std::string::npos) << error.what();
    }
  }
}

TEST(CsvTable, OfNothingIsEmpty) { EXPECT_TRUE(rows_of("").empty()); }

}  // namespace
}  // namespace windway
