// SPDX-License-Identifier: GPL-3.0-or-later
// What the sample takes measured when scripts/bless last wrote it down. A table's first row holds the tolerance of each
// column; a change that moves a figure further shows in the table's diff, and belongs under Results in CHANGELOG.md.
#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>
#include <iterator>
#include <optional>
#include <ostream>

#include "analysis.hpp"
#include "report/measurement/csv.hpp"
#include "table.hpp"
#include "units/read_number.hpp"

namespace windway {
namespace {

using test::Table;

struct GoldenTake {
  std::string name;
  std::string kind;
  std::string lowest;
  std::string head_out_mm;
};

void PrintTo(const GoldenTake& take, std::ostream* out) { *out << take.name; }

Table table_at(const std::string& name) {
  std::ifstream file(std::string(WINDWAY_TESTS_DIR) + "/golden/" + name + ".csv");
  return Table(std::string(std::istreambuf_iterator<char>(file), {}));
}

/// takes.csv, which scripts/bless reads too.
std::vector<GoldenTake> golden_takes() {
  const Table table = table_at("takes");
  std::vector<GoldenTake> takes;
  for (std::size_t row = 0; row < table.rows(); ++row) {
    takes.push_back(
        {table.cell(row, "take"), table.cell(row, "kind"), table.cell(row, "lowest"), table.cell(row, "head_out_mm")});
  }
  return takes;
}

Table measured_table(const GoldenTake& take) {
  MeasureSettings settings;
  settings.instrument.kind = take.kind == "whistle" ? Kind::whistle : Kind::recorder;
  settings.instrument.lowest = parse_note(take.lowest, NoteNames::english);
  settings.head.out_mm = number_in(take.head_out_mm);
  settings.blows.is_warm = true;
  return Table(csv_report(measure({std::string(WINDWAY_SAMPLES_DIR) + "/takes/" + take.name + ".flac"}, settings)));
}

void expect_cell(const std::string& golden, const std::string& found, const std::string& tolerance) {
  const auto within = number_in(tolerance);
  const auto expected = number_in(golden);
  if (!within || !expected) {
    EXPECT_EQ(found, golden);  // words, counts and cells that are empty because nothing was measured
    return;
  }
  const auto value = number_in(found);
  ASSERT_TRUE(value) << "no number: '" << found << "'";
  EXPECT_NEAR(*value, *expected, *within);
}

class Golden : public testing::TestWithParam<GoldenTake> {};

TEST_P(Golden, TheSampleMeasuresWhatItDidWithinTheTablesTolerances) {
  const Table golden = table_at(GetParam().name);
  const Table found = measured_table(GetParam());
  ASSERT_GT(golden.rows(), 1U);
  ASSERT_EQ(golden.rows() - 1, found.rows());
  for (std::size_t row = 0; row < found.rows(); ++row) {
    for (const std::string& column : golden.columns()) {
      SCOPED_TRACE(golden.cell(row + 1, "note") + " " + column);
      expect_cell(golden.cell(row + 1, column), found.cell(row, column), golden.cell(0, column));
    }
  }
}

INSTANTIATE_TEST_SUITE_P(Samples, Golden, testing::ValuesIn(golden_takes()), [](const auto& take) {
  std::string name = take.param.name;
  std::replace(name.begin(), name.end(), '-', '_');
  return name;
});

}  // namespace
}  // namespace windway
