// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/bench/groups_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <vector>

#include "report/bench/bench_report.hpp"
#include "report/wording/choices.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/prose.hpp"
#include "report/wording/words.hpp"

namespace windway {
namespace {

/// "A5 is 4.1 cents (± 1.9) flatter than in the rest, B5 3.0 (± 1.8)"; the farthest first. Empty where none is.
std::string notes_words(const BenchTally& tally, std::vector<GroupNote> notes, bool sharper) {
  std::erase_if(notes, [&](const GroupNote& note) { return !note.is_sure || (note.above_rest.cents > 0) != sharper; });
  std::ranges::stable_sort(notes, std::greater<>(),
                           [](const GroupNote& note) { return std::abs(note.above_rest.cents); });
  std::string words;
  for (const GroupNote& note : notes) {
    const std::string cents = fixed(std::abs(note.above_rest.cents), 1);
    const std::string unsure = plus_minus(note.above_rest.u95_cents, 1);
    const std::string name = spelt(*tally.model, note.note);
    words += words.empty() ? fmt::format("{} is {} ({}) {} than in the rest", name, count_in_words(cents, "cent"),
                                         unsure, sharper ? "sharper" : "flatter")
                           : fmt::format(", {} {} ({})", name, cents, unsure);
  }
  return words;
}

std::string against_rest(const BenchTally& tally, const GroupFinding& group) {
  if (group.notes.empty()) return "It cannot be compared with the rest: each needs at least two instruments.";
  const std::string flatter = notes_words(tally, group.notes, false);
  const std::string sharper = notes_words(tally, group.notes, true);
  if (flatter.empty() && sharper.empty()) return "No note surely differs from the rest.";
  return flatter + (flatter.empty() || sharper.empty() ? "" : "; ") + sharper + ".";
}

}  // namespace

Prose groups_prose(const BenchTally& tally, const BenchFindings& findings) {
  if (tally.groupings.size() > 1) {
    std::vector<std::string> names;
    for (const GroupBy by : tally.groupings) names.push_back(word_of(by));
    return Prose(Gap{}) + words("These results are grouped by " + list_in_words(names) +
                                    ", so no groups are compared; choose one with --group-by.",
                                2);
  }
  if (tally.groupings.empty()) return {};
  const std::string by = word_of(*tally.groupings.begin());
  if (findings.groups.empty())
    return Prose(Gap{}) + words("No instrument gives its " + by + ", so no groups are compared.", 2);
  if (findings.groups.size() == 1 && tally.ungrouped == 0)
    return Prose(Gap{}) +
           words("All are of one " + by + ", " + findings.groups.front().name + ": there is no rest to compare with.",
                 2);
  Prose prose = Prose(Gap{}) + words("Each " + by + " compared with the rest:");
  for (const GroupFinding& group : findings.groups)
    prose += words(
        fmt::format("  {} {}: {} {}", by, group.name, counts_in_words(group.verdicts), against_rest(tally, group)), 4);
  if (tally.ungrouped > 0)
    prose += words(
        fmt::format("  {} in none of these, as the {} is not given.",
                    tally.ungrouped == 1 ? "1 instrument is" : fmt::format("{} instruments are", tally.ungrouped), by),
        4);
  if (tally.groups_are_too_many) prose += words("  There are too many groups; the rest are left out.", 4);
  if (findings.comparisons > 0)
    prose += words(fmt::format("  In {} some would stand out by chance; that is allowed for.",
                               count_in_words(findings.comparisons, "comparison")),
                   4);
  return prose;
}

}  // namespace windway
