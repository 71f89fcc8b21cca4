// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/bench/first_lines.hpp"

#include <fmt/format.h>

#include "report/wording/figures.hpp"
#include "report/wording/prose.hpp"
#include "report/wording/words.hpp"

namespace windway {
namespace {

/// "At their first take 182 of 197 instruments passed (92 %); 10 more passed at a later one."
std::string yield_in_words(const BenchTally& tally) {
  const VerdictCounts& first = tally.first_takes;
  const std::uint64_t judged = first.all() - first.measured_only;
  const std::size_t reworked = tally.reworked();
  if (reworked == 0 || judged == 0) return "";
  const std::uint64_t passed = first.of(VerdictResult::pass);
  return fmt::format("At their first take {} of {} passed ({:.0f} %); {} more passed at a later one.", passed,
                     count_in_words(judged, "instrument"),
                     100.0 * static_cast<double>(passed) / static_cast<double>(judged), reworked);
}

/// "HW-1003, HW-1010 and 4 more".
std::string names_in_words(const BenchWarmth& warmth) {
  std::vector<std::string> names = warmth.not_said_of;
  if (warmth.not_said > names.size()) names.push_back(fmt::format("{} more", warmth.not_said - names.size()));
  return list_in_words(names);
}

std::string said_in_words(const BenchWarmth& warmth) {
  const auto& [n, mean, m2, coldest, warmest] = warmth.said_c;
  const std::string range = coldest < warmest ? fmt::format("between {} and {}", shortest(coldest), shortest(warmest))
                                              : "at " + shortest(coldest);
  if (warmth.quoted_differ)
    return fmt::format(
        "The bores were {} degrees C, and these results are given for different temperatures: a cold bore sounds "
        "like a long body. Run the batches again with one --quote-at.",
        range);
  if (!warmth.quoted_c)
    return fmt::format(
        "The bores were {} degrees C, and the notes are given as they sounded: a cold bore sounds like a "
        "long body. Run the batch again with --quote-at {}.",
        range, shortest(Air{}.temperature_c));
  std::string text = fmt::format("All pitches are given for a bore at {} degrees C; the bores were {}.",
                                 shortest(*warmth.quoted_c), range);
  if (warmth.not_said > 0)
    text += fmt::format(
        " The manifest gives no temperature for {} ({}); windway takes {} degrees C for them, or --bore-temp. There a "
        "cold bore would look like a long body.",
        count_in_words(warmth.not_said, "take"), names_in_words(warmth), shortest(Air{}.temperature_c));
  return text;
}

/// Where all bores were as warm as the pitches are given for, nothing is to be said.
bool is_warmth_worth_a_word(const BenchWarmth& warmth) {
  const bool all_alike = warmth.not_said == 0 && warmth.said_c.min == warmth.said_c.max;
  return warmth.said_c.n > 0 && !(all_alike && warmth.quoted_c == warmth.said_c.min);
}

std::string days_in_words(const DaysApart& days) {
  return fmt::format(
      "The home A4s differ from day to day by more than chance: {} Hz on {}, {} Hz on {}. Cold bores would look the "
      "same as long bodies. A column bore_temp_c in the manifest tells them apart.",
      fixed(days.lowest_hz, 1), days.lowest_day, fixed(days.highest_hz, 1), days.highest_day);
}

}  // namespace

Prose first_lines(const BenchTally& tally, const BenchFindings& findings) {
  Prose prose = words(yield_in_words(tally));
  if (tally.is_by_keeper)
    prose += words(
        "The keeper's offset of each day is taken out of the home A4s and of the heads' best places. For a head that "
        "is fixed, or at the end of its travel, it is taken out of the notes.");
  if (is_warmth_worth_a_word(tally.warmth)) prose += words(said_in_words(tally.warmth));
  if (findings.days_apart) prose += words(days_in_words(*findings.days_apart));
  return prose;
}

}  // namespace windway
