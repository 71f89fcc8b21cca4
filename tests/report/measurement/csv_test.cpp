// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/measurement/csv.hpp"

#include <gtest/gtest.h>

#include <limits>
#include <vector>

#include "report/measurement/invented_measurement.hpp"

namespace windway {
namespace {

using report_tests::invented_measurement;
using Rows = std::vector<std::vector<std::string>>;

/// Reads RFC 4180 as a spreadsheet would.
Rows rows_of(const std::string& csv) {
  Rows rows{{""}};
  bool is_quoted = false;
  for (std::size_t at = 0; at < csv.size(); ++at) {
    if (csv[at] == '"' && is_quoted && at + 1 < csv.size() && csv[at + 1] == '"') {
      rows.back().back() += csv[++at];
    } else if (csv[at] == '"') {
      is_quoted = !is_quoted;
    } else if (is_quoted || (csv[at] != ',' && csv[at] != '\r' && csv[at] != '\n')) {
      rows.back().back() += csv[at];
    } else if (csv[at] == ',') {
      rows.back().emplace_back();
    } else if (csv[at] == '\n' && at + 1 < csv.size()) {
      rows.push_back({""});
    }
  }
  return rows;
}

std::string cell(const Rows& rows, std::size_t row, const std::string& column) {
  for (std::size_t at = 0; at < rows[0].size(); ++at) {
    if (rows[0][at] == column) return rows[row][at];
  }
  return "no such column";
}

TEST(CsvReport, HasARowANoteAndAlwaysTheSameColumns) {
  const std::string full = csv_report(invented_measurement());
  EXPECT_TRUE(full.starts_with("note,midi,register,target_hz,holds,soft_cents,soft_u95_cents,moderate_cents,"));
  const Rows rows = rows_of(full);
  ASSERT_EQ(rows.size(), 5u);
  for (const auto& row : rows) EXPECT_EQ(row.size(), rows[0].size());
  Measurement unmoved = invented_measurement();
  unmoved.compromise.reset();
  EXPECT_EQ(rows_of(csv_report(unmoved))[0], rows[0]);
}

TEST(CsvReport, LeavesEmptyWhatWasNotMeasured) {
  const Rows rows = rows_of(csv_report(invented_measurement()));
  EXPECT_EQ(cell(rows, 1, "soft_cents"), "3.62");
  EXPECT_EQ(cell(rows, 4, "soft_cents"), "");
  EXPECT_EQ(cell(rows, 4, "spread_u95_cents"), "");
  EXPECT_EQ(cell(rows, 4, "moved_breath"), "out_of_reach");
  EXPECT_EQ(cell(rows, 4, "moved_breath_share"), "");
  EXPECT_EQ(cell(rows, 1, "slide_mm"), "1.24");
}

TEST(CsvReport, NeverHoldsAFigureThatIsNoNumber) {
  Measurement measurement = invented_measurement();
  measurement.breath.notes[0].moderate.u95_cents = std::numeric_limits<double>::infinity();
  const Rows rows = rows_of(csv_report(measurement));
  EXPECT_EQ(cell(rows, 1, "moderate_u95_cents"), "");
}

TEST(CsvReport, QuotesCommasAndQuotesAsRfc4180Says) {
  const std::string csv = csv_report(invented_measurement());
  EXPECT_NE(csv.find("\"ash, \"\"second\"\".wav\"\r\n"), std::string::npos);
  EXPECT_EQ(cell(rows_of(csv), 2, "takes"), "ash, \"second\".wav");
}

}  // namespace
}  // namespace windway
