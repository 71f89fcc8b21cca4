// SPDX-License-Identifier: GPL-3.0-or-later
// The law of the slide against an independent model of a six-hole tube: tests/external/tube_model.py (transfer
// matrices; H. Levine & J. Schwinger, Phys. Rev. 73 (1948) 383; N. H. Fletcher & T. D. Rossing, The Physics of Musical
// Instruments (1998), ch. 8 and 15). It is passive: of what the jet does it says nothing, so the law keeps its 5 %
// until an instrument is calibrated.
#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/run_program.hpp"
#include "external/required.hpp"
#include "slide/law_of_slide.hpp"

namespace windway::external_tests {
namespace {

TEST(TubeModel, FallsAsTheLawOfTheSlideSaysWithinFivePerCent) {
  const auto run = cli_tests::run_program({"/usr/bin/python3", WINDWAY_TESTS_DIR "/external/tube_model.py", "--json"});
  WINDWAY_NEEDS(run.exit_status == 0, "python3 with SciPy");
  const auto rows = nlohmann::json::parse(run.out);
  ASSERT_EQ(rows.size(), 42U);  // seven fingerings, two registers, three moves
  int beyond_three_per_cent = 0;
  for (const auto& row : rows) {
    SCOPED_TRACE(row.dump());
    const double law_cents = slide_change_cents(row["length_mm"].get<double>(), row["out_mm"].get<double>());
    EXPECT_NEAR(law_cents, row["law_cents"].get<double>(), 1e-9);
    const double departure = row["model_cents"].get<double>() / law_cents - 1.0;
    EXPECT_LT(std::abs(departure), 0.05);
    if (std::abs(departure) < 0.03) continue;
    ++beyond_three_per_cent;
    // Near the cut-off of its open holes the highest fingering's air column is no longer n c / (2 f).
    EXPECT_EQ(row["note"], "C#");
    EXPECT_EQ(row["register"], 2);
  }
  EXPECT_EQ(beyond_three_per_cent, 3);
}

}  // namespace
}  // namespace windway::external_tests
