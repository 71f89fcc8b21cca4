// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "report/bench/bench_report.hpp"
#include "report/bench/groups_text.hpp"
#include "report/bench/keeper_text.hpp"
#include "report/bench/notes_text.hpp"
#include "report/lines/advice_to_maker.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/layout.hpp"
#include "report/wording/words.hpp"
#include "units/coverage_factor.hpp"

namespace windway {
namespace {

/// Which of the counted instruments the statistics are of.
std::string basis_text(const BenchTally& tally, std::size_t columns) {
  const std::uint64_t in = in_statistics(tally);
  const std::uint64_t out = tally.verdicts.all() - in;
  std::string words = "Statistics of " + count_in_words(in, "instrument");
  if (out > 0)
    words += fmt::format("; {} that {} not measured, or not surely, {} left out", out, out == 1 ? "was" : "were",
                         out == 1 ? "is" : "are");
  return wrapped(words + ".", 2, columns);
}

/// Where the makers mean notes off the temperament; nothing where all are on it, or where they differ.
std::string targets_text(const BenchTally& tally, std::size_t columns) {
  const BenchEntry& model = *tally.model;
  const std::string sentence = targets_in_words(model.stretch_cents_per_octave, model.targets,
                                                [&](const NoteId& note) { return spelt(model, note); });
  return sentence.empty() || tally.targets_differ ? "" : wrapped("  " + sentence, 2, columns);
}

std::string moments_text(const char* what, const Moments& moments, int places, const char* unit, std::size_t columns) {
  const auto sd = sample_sd(moments);
  if (!sd) return "";
  return wrapped(fmt::format("{}: {} {} (SD {}, {} to {}).", what, fixed(moments.mean, places), unit,
                             fixed(*sd, places), fixed(moments.min, places), fixed(moments.max, places)),
                 2, columns);
}

/// How far the notes bend from soft to hard, on the mean of the bench.
std::string spread_text(const BenchTally& tally, const BenchFindings& findings, std::size_t columns) {
  const NoteFinding* least = nullptr;
  const NoteFinding* most = nullptr;
  for (const NoteFinding& note : findings.notes) {
    if (note.spread.n == 0) continue;
    if (least == nullptr || note.spread.mean < least->spread.mean) least = &note;
    if (most == nullptr || note.spread.mean > most->spread.mean) most = &note;
  }
  if (least == most) return "";
  return wrapped(
      fmt::format("From soft to hard the notes rise by {} ({}) to {} cents ({}), on the mean of the instruments.",
                  fixed(least->spread.mean, 1), spelt(*tally.model, least->note), fixed(most->spread.mean, 1),
                  spelt(*tally.model, most->note)),
      2, columns);
}

/// Notes that pass or fail by less than the bench repeats one reading within.
std::string near_limits_text(const BenchTally& tally, double repeat_u95_cents, std::size_t columns) {
  constexpr std::size_t most_named = 5;
  std::vector<std::string> names;
  std::size_t count = 0;
  for (const NearLimit& each : tally.near_limits)
    if (each.cents < repeat_u95_cents && ++count <= most_named)
      names.push_back(fmt::format("{} of {}", spelt(*tally.model, each.note), each.name));
  if (count == 0) return "";
  if (count > most_named)
    names.push_back(count == BenchTally::most_near_limits ? "many more" : fmt::format("{} more", count - most_named));
  return wrapped(fmt::format("By that, too close to call, though one take alone is sure: {}. Record them again.",
                             list_in_words(names)),
                 2, columns);
}

/// The difference of two readings that 95 % keep within: of an SD with so many degrees (ISO 5725-6, repeatability
/// limit; with Student's factor for few degrees).
std::string repeat_text(const BenchTally& tally, std::size_t columns) {
  const auto limit_cents = tally.repeatability.note_u95_cents();
  if (!limit_cents) return "";
  return wrapped(fmt::format("Repeatability: the same note of the same flute, measured twice, differs by less than {} "
                             "cents 19 of 20 times (takes of the same serial, stage and head).",
                             fixed(*limit_cents, 1)),
                 2, columns) +
         near_limits_text(tally, *limit_cents / std::numbers::sqrt2, columns);
}

/// What is known of the bench in one figure each.
std::string figures_text(const BenchTally& tally, const BenchFindings& findings, std::size_t columns) {
  return moments_text("The heads come to rest", tally.head_rests_mm, 1, "mm out", columns) +
         moments_text("Home A4, the head as it stood", tally.home_a4_hz, 1, "Hz", columns) +
         moments_text("Upper notes against lower ones", tally.octave_cents, 1, "cents", columns) +
         spread_text(tally, findings, columns) + repeat_text(tally, columns);
}

std::string gauge_text(const BenchTally& tally, const BenchFindings& findings, std::size_t columns) {
  std::vector<std::vector<std::string>> rows;
  for (const NoteFinding& note : findings.notes) {
    if (!note.gauge) continue;
    const auto sorts = [](const std::optional<GaugeStudy>& study) {
      return study && study->distinct_categories ? std::to_string(*study->distinct_categories) : std::string();
    };
    rows.push_back({spelt(*tally.model, note.note), fixed(note.gauge->repeatability.sd, 2),
                    fixed(note.gauge->reproducibility.sd, 2), fixed(note.gauge->part.sd, 2),
                    fixed(note.gauge->gauge.percent, 1), sorts(note.gauge)});
  }
  if (rows.empty())
    return findings.why_no_gauge_study ? wrapped("No gauge study: " + *findings.why_no_gauge_study + ".", 2, columns)
                                       : "";
  return "\n" + wrapped("Gauge study: " + list_in_words(tally.repeatability.operators()) + ".", 2, columns) + "\n" +
         table({{"note"},
                {"repeat", true},
                {"operators", true},
                {"instruments", true},
                {"gauge %", true},
                {"sorts it can tell apart", true}},
               rows, columns) +
         wrapped(
             "  SD in cents: of one operator again, from operator to operator, from instrument to instrument. Gauge %: "
             "the measuring's share of the whole SD; below 10 is good, above 30 is not. 5 sorts of instrument that it "
             "can tell apart are enough (AIAG, Measurement Systems Analysis, 4th ed.).",
             2, columns);
}

std::string doubts_text(const BenchTally& tally, std::size_t columns) {
  std::string text;
  const auto say = [&](const std::string& line) { text += wrapped(line, 2, columns); };
  if (tally.models_differ)
    say("warning: instruments of several kinds or keys were put together; the statistics join them by note.");
  if (tally.a4_differs || tally.targets_differ)
    say(fmt::format("warning: results for different {} were put together; what is left of a note is against its own.",
                    !tally.targets_differ ? "A4"
                    : tally.a4_differs    ? "A4 and targets"
                                          : "targets"));
  if (tally.stages.size() > 1 && !tally.rules.stage && !tally.groupings.contains(GroupBy::stage))
    say("The stages " + list_in_words({tally.stages.begin(), tally.stages.end()}) +
        " are counted side by side, an instrument once at each; --stage STAGE counts one alone.");
  if (tally.duplicates > 0)
    say(fmt::format("{} left out, as the result of the same recording came again.",
                    tally.duplicates == 1 ? "1 result was" : fmt::format("{} results were", tally.duplicates)));
  if (tally.made.left_out() > 0)
    say(fmt::format("What stands out, and the advice, are of the last {} instruments.", Production::most_instruments));
  if (tally.repeatability.closed_early() > 0)
    say("warning: takes of one instrument lie too far apart in these results; some repeats were not seen as such.");
  return text.empty() ? "" : "\n" + text;
}

}  // namespace

std::string bench_statistics_text(const BenchTally& tally, const BenchFindings& findings, std::size_t columns) {
  if (findings.notes.empty()) return keeper_text(tally, findings, columns) + doubts_text(tally, columns);
  std::string text =
      "\n" + basis_text(tally, columns) + "\n" + notes_text(tally, findings, columns) + targets_text(tally, columns);
  const std::string figures = figures_text(tally, findings, columns);
  if (!figures.empty()) text += "\n" + figures;
  text += gauge_text(tally, findings, columns) + groups_text(tally, findings, columns);
  text += keeper_text(tally, findings, columns);
  if (findings.advice) text += advice_to_maker(*findings.advice, *tally.model, columns);
  return text + doubts_text(tally, columns);
}

}  // namespace windway
