// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <numbers>
#include <optional>

#include "report/bench/bench_parts.hpp"
#include "report/bench/bench_report.hpp"
#include "report/bench/groups_text.hpp"
#include "report/bench/keeper_text.hpp"
#include "report/bench/notes_text.hpp"
#include "report/lines/advice_to_maker.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/prose.hpp"
#include "report/wording/words.hpp"

namespace windway {
namespace {

Prose moments_prose(const char* what, const Moments& moments, int places, const char* unit) {
  const auto sd = sample_sd(moments);
  if (!sd) return {};
  return words(fmt::format("{}: {} {} (SD {}, {} to {}).", what, fixed(moments.mean, places), unit, fixed(*sd, places),
                           fixed(moments.min, places), fixed(moments.max, places)),
               2);
}

/// How far the notes bend from soft to hard, on the mean of the bench.
Prose spread_prose(const BenchTally& tally, const BenchFindings& findings) {
  const NoteFinding* least = nullptr;
  const NoteFinding* most = nullptr;
  for (const NoteFinding& note : findings.notes) {
    if (note.spread.n == 0) continue;
    if (least == nullptr || note.spread.mean < least->spread.mean) least = &note;
    if (most == nullptr || note.spread.mean > most->spread.mean) most = &note;
  }
  if (least == most) return {};
  return words(
      fmt::format("From soft to hard the notes rise by {} ({}) to {} cents ({}), as the mean of all instruments.",
                  fixed(least->spread.mean, 1), spelt(*tally.model, least->note), fixed(most->spread.mean, 1),
                  spelt(*tally.model, most->note)),
      2);
}

/// Notes that pass or fail by less than the bench repeats one reading within.
Prose near_limits_prose(const BenchTally& tally, double repeat_u95_cents) {
  constexpr std::size_t most_named = 5;
  std::vector<std::string> names;
  std::size_t count = 0;
  for (const NearLimit& each : tally.near_limits)
    if (each.cents < repeat_u95_cents && ++count <= most_named)
      names.push_back(fmt::format("{} of {}", spelt(*tally.model, each.note), each.name));
  if (count == 0) return {};
  if (count > most_named)
    names.push_back(count == BenchTally::most_near_limits ? "many more" : fmt::format("{} more", count - most_named));
  return words(
      fmt::format(
          "By that, these notes are too close to call, though one take alone seems sure: {}. Record them again.",
          list_in_words(names)),
      2);
}

/// The difference of two readings that 95 % keep within: of an SD with so many degrees (ISO 5725-6, repeatability
/// limit; with Student's factor for few degrees).
Prose repeat_prose(const BenchTally& tally) {
  const auto limit_cents = tally.repeatability.note_u95_cents();
  if (!limit_cents) return {};
  return words(fmt::format("Repeatability: the same note of the same flute, measured twice, differs by less than {} "
                           "cents 19 times out of 20 (takes of the same serial, stage and head).",
                           fixed(*limit_cents, 1)),
               2) +
         near_limits_prose(tally, *limit_cents / std::numbers::sqrt2);
}

}  // namespace

Prose basis_prose(const BenchTally& tally) {
  const std::uint64_t in = in_statistics(tally);
  const std::uint64_t out = tally.verdicts.all() - in;
  std::string sentence = "Statistics of " + count_in_words(in, "instrument");
  if (out > 0) sentence += fmt::format("; {} {} left out, not measured or doubtful", out, out == 1 ? "is" : "are");
  return words(sentence + ".", 2);
}

Prose targets_prose(const BenchTally& tally) {
  const BenchEntry& model = *tally.model;
  const std::string sentence = targets_in_words(model.stretch_cents_per_octave, model.targets,
                                                [&](const NoteId& note) { return spelt(model, note); });
  return sentence.empty() || tally.targets_differ ? Prose() : words("  " + sentence, 2);
}

Prose figures_prose(const BenchTally& tally, const BenchFindings& findings) {
  return moments_prose("Best place of the head", tally.head_rests_mm, 1, "mm out") +
         moments_prose("Home A4, with the head where it was", tally.home_a4_hz, 1, "Hz") +
         moments_prose("Upper notes compared with lower ones", tally.octave_cents, 1, "cents") +
         spread_prose(tally, findings) + repeat_prose(tally);
}

Prose gauge_prose(const BenchTally& tally, const BenchFindings& findings) {
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
    return findings.why_no_gauge_study ? words("No gauge study: " + *findings.why_no_gauge_study + ".", 2) : Prose();
  return Prose(Gap{}) + words("Gauge study: " + list_in_words(tally.repeatability.operators()) + ".", 2) +
         Prose(Gap{}) +
         Prose(Grid{{{"note"},
                     {"repeat", true},
                     {"operators", true},
                     {"instruments", true},
                     {"gauge %", true},
                     {"sorts it can tell apart", true}},
                    rows}) +
         words(
             "  SD in cents: when one operator measures again, between operators, between instruments. Gauge %: the "
             "share of the measuring in the whole SD; below 10 is good, above 30 is not. It should tell at least 5 "
             "sorts of instrument apart (AIAG, Measurement Systems Analysis, 4th ed.).",
             2);
}

Prose doubts_prose(const BenchTally& tally) {
  Prose lines;
  const auto say = [&](const std::string& line) { lines += words(line, 2); };
  if (tally.models_differ)
    say("warning: these results mix instruments of several kinds or keys; the statistics join them by note.");
  if (tally.a4_differs || tally.targets_differ)
    say(fmt::format("warning: these results mix different {}; the cents of a note are from its own target.",
                    !tally.targets_differ ? "A4"
                    : tally.a4_differs    ? "A4 and targets"
                                          : "targets"));
  if (tally.stages.size() > 1 && !tally.rules.stage && !tally.groupings.contains(GroupBy::stage))
    say("An instrument counts once at each of the stages " + list_in_words({tally.stages.begin(), tally.stages.end()}) +
        "; --stage STAGE counts one stage alone.");
  if (tally.duplicates > 0)
    say(fmt::format("{} left out, as the same recording has a later one.",
                    tally.duplicates == 1 ? "1 result was" : fmt::format("{} results were", tally.duplicates)));
  if (tally.made.left_out() > 0)
    say(fmt::format("Outliers and advice are from the last {} instruments only.", Production::most_instruments));
  if (tally.repeatability.closed_early() > 0)
    say("warning: takes of one instrument are too far apart in these results; some repeats were not noticed.");
  return lines.empty() ? lines : Prose(Gap{}) + lines;
}

Prose bench_statistics_prose(const BenchTally& tally, const BenchFindings& findings) {
  if (findings.notes.empty()) return keeper_prose(tally, findings) + doubts_prose(tally);
  Prose prose = Prose(Gap{}) + basis_prose(tally) + Prose(Gap{}) + notes_prose(tally, findings) + targets_prose(tally);
  const Prose figures = figures_prose(tally, findings);
  if (!figures.empty()) prose += Prose(Gap{}) + figures;
  prose += gauge_prose(tally, findings) + groups_prose(tally, findings) + keeper_prose(tally, findings);
  if (findings.advice) prose += advice_to_maker(*findings.advice, *tally.model);
  return prose + doubts_prose(tally);
}

}  // namespace windway
