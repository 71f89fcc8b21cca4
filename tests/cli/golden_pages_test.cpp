// SPDX-License-Identifier: GPL-3.0-or-later
// The pages of the sample takes as scripts/bless last wrote them down, byte for byte but for the last digit of a
// decimal: processors do not all round a transform alike. What changes a page shows in its diff.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <optional>
#include <ostream>

#include "cli/run_program.hpp"
#include "cli/sample_takes.hpp"

namespace windway::cli_tests {
namespace {

/// A number, such as 12.5, or one character that belongs to none.
struct Piece {
  std::string text;
  std::optional<double> number{};
  int decimals = 0;
};

bool is_digit(char character) { return character >= '0' && character <= '9'; }

/// What stands at `from`.
Piece piece_at(const std::string& page, std::size_t from) {
  const auto digits_from = [&](std::size_t at) {
    while (at < page.size() && is_digit(page[at])) ++at;
    return at;
  };
  const std::size_t whole = digits_from(from);
  if (whole == from) return {page.substr(from, 1)};
  const std::size_t end = whole < page.size() && page[whole] == '.' ? digits_from(whole + 1) : whole;
  const bool has_decimals = end > whole + 1;
  const std::string text = page.substr(from, (has_decimals ? end : whole) - from);
  return {text, std::stod(text), has_decimals ? static_cast<int>(end - whole - 1) : 0};
}

bool are_alike(const Piece& golden, const Piece& found) {
  if (golden.text == found.text) return true;
  const int decimals = std::max(golden.decimals, found.decimals);
  if (!golden.number || !found.number || decimals == 0) return false;
  return std::abs(*golden.number - *found.number) < 1.5 * std::pow(10.0, -decimals);
}

/// The golden pages have no style: it is the same on all, and stands in lib/report/page/*.css.
std::string without_style(const std::string& page) {
  const std::string begin = "<style>";
  const std::size_t from = page.find(begin) + begin.size(), to = page.find("</style>");
  return to < from || to == std::string::npos ? page : page.substr(0, from) + page.substr(to);
}

/// Some text on both sides of that place.
std::string around(const std::string& page, std::size_t place) {
  constexpr std::size_t before = 120, after = 80;
  const std::size_t from = place > before ? place - before : 0;
  return page.substr(from, place - from + after);
}

/// Empty where the pages are alike, else the first place where they are not.
std::string first_difference(const std::string& golden, const std::string& found) {
  std::size_t in_golden = 0, in_found = 0;
  while (in_golden < golden.size() && in_found < found.size()) {
    const Piece expected = piece_at(golden, in_golden), piece = piece_at(found, in_found);
    if (!are_alike(expected, piece)) break;
    in_golden += expected.text.size();
    in_found += piece.text.size();
  }
  if (in_golden == golden.size() && in_found == found.size()) return {};
  return "was: " + around(golden, in_golden) + "\nnow: " + around(found, in_found);
}

class GoldenPage : public testing::TestWithParam<SampleTake> {};

TEST_P(GoldenPage, IsTheSameAsItWas) {
  const std::string golden = read_file(std::string(WINDWAY_TESTS_DIR) + "/golden/pages/" + GetParam().name + ".html");
  ASSERT_FALSE(golden.empty());
  // A page says the call that made it.
  std::filesystem::current_path(std::string(WINDWAY_TESTS_DIR) + "/..");
  std::vector<std::string> call = call_of(GetParam(), {"--format", "html"});
  call[1] = "samples/takes/" + GetParam().name + ".flac";
  const ProgramRun run = run_windway(call);
  ASSERT_EQ(run.exit_status, 0) << run.err;
  EXPECT_EQ(first_difference(golden, without_style(run.out)), "");
}

INSTANTIATE_TEST_SUITE_P(Samples, GoldenPage, testing::ValuesIn(samples()), [](const auto& sample) {
  std::string name = sample.param.name;
  for (char& character : name)
    if (character == '-') character = '_';
  return name;
});

TEST(DifferenceOfPages, IsSeenInAWordAndInADecimalButNotInItsLastDigit) {
  EXPECT_EQ(first_difference("x=\"12.50%\"", "x=\"12.51%\""), "");
  EXPECT_EQ(first_difference("x=\"9.99%\"", "x=\"10%\""), "");
  EXPECT_NE(first_difference("x=\"12.50%\"", "x=\"12.52%\""), "");
  EXPECT_NE(first_difference("12 notes", "13 notes"), "");
  EXPECT_NE(first_difference("sharp", "flat"), "");
  EXPECT_NE(first_difference("a note", "a note more"), "");
}

}  // namespace
}  // namespace windway::cli_tests
