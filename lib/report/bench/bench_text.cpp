// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "report/bench/advice_to_maker.hpp"
#include "report/bench/bench_report.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/layout.hpp"
#include "report/wording/words.hpp"
#include "statistics/capability.hpp"

namespace windway {
namespace {

constexpr std::size_t most_names = 8;

std::string tenths(double value) { return signed_fixed(value, 1); }
std::string tenths_or_blank(const std::optional<double>& value) { return value ? fixed(*value, 1) : ""; }

std::string note_name(const BenchTally& tally, const NoteId& note) { return spelt(*tally.model, note); }

std::vector<std::string> row_of(const BenchTally& tally, const NoteFinding& note) {
  const auto& capability = note.capability;
  return {note_name(tally, note.note),
          std::to_string(note.left.n),
          tenths(note.left.mean),
          tenths_or_blank(note.sd_cents),
          tenths(note.left.min),
          tenths(note.left.max),
          capability ? fixed(capability->cp, 2) : "",
          capability ? fixed(capability->cpk, 2) : "",
          note.chart ? tenths(note.chart->lower) + ".." + tenths(note.chart->upper) : "",
          note.spread.n > 0 ? fixed(note.spread.mean, 1) : "",
          note.repeatability ? fixed(note.repeatability->sd, 2) : ""};
}

std::string notes_table(const BenchTally& tally, const BenchFindings& findings, std::size_t columns) {
  std::vector<std::vector<std::string>> rows;
  for (const NoteFinding& note : findings.notes) rows.push_back(row_of(tally, note));
  return table({{"note"},
                {"n", true},
                {"mean", true},
                {"SD", true},
                {"least", true},
                {"most", true},
                {"Cp", true},
                {"Cpk", true},
                {"chart", true},
                {"spread", true, 1},
                {"again", true, 3}},
               rows, columns);
}

/// How surely the least surely known Cp is; nothing where there is none.
std::string capability_words(const std::vector<NoteFinding>& notes) {
  std::optional<std::size_t> least;
  for (const NoteFinding& note : notes)
    if (note.capability) least = std::min(least.value_or(note.left.n), note.left.n);
  if (!least) return "";
  return fmt::format("Cp and Cpk of {} instruments are known to about ± {:.0f} %; ", *least,
                     100.0 * capability_u95_share(*least));
}

std::string legend(const BenchTally& tally, const BenchFindings& findings, std::size_t columns) {
  const double a4_hz = tally.model->a4_hz;
  return wrapped(
      fmt::format("  cents from the target (A4 = {} Hz), at moderate breath, after each instrument's own "
                  "best move; {}chart: where single instruments lie by the bench's own scatter (mean ± 3 "
                  "moving ranges / 1.128); spread: mean, from soft to hard; again: SD of one instrument measured again",
                  shortest(a4_hz), capability_words(findings.notes)),
      2, columns);
}

/// Where the makers mean notes off the temperament; nothing where all are on it, or where they differ.
std::string targets_text(const BenchTally& tally, std::size_t columns) {
  const BenchEntry& model = *tally.model;
  const std::string sentence = targets_in_words(model.stretch_cents_per_octave, model.targets,
                                                [&](const NoteId& note) { return spelt(model, note); });
  return sentence.empty() || tally.targets_differ ? "" : wrapped("  " + sentence, 2, columns);
}

std::string named(const NamedDeviations& deviations) {
  std::vector<std::string> words;
  for (std::size_t i = 0; i < std::min(deviations.listed.size(), most_names); ++i)
    words.push_back(fmt::format("{} ({})", deviations.listed[i].name, tenths(deviations.listed[i].cents)));
  if (deviations.count > words.size()) words.push_back(fmt::format("{} more", deviations.count - words.size()));
  return list_in_words(words);
}

std::string deviations_text(const BenchTally& tally, const BenchFindings& findings, std::size_t columns) {
  std::string text;
  for (const NoteFinding& note : findings.notes)
    if (note.outliers.count > 0)
      text += wrapped(fmt::format("{}: {} stand{} far from the rest, cents.", note_name(tally, note.note),
                                  named(note.outliers), note.outliers.count == 1 ? "s" : ""),
                      2, columns);
  for (const NoteFinding& note : findings.notes) {
    NamedDeviations further = note.beyond_chart;
    further.count -= std::erase_if(further.listed, [&](const NamedDeviation& each) {
      return std::ranges::find(note.outliers.listed, each.name, &NamedDeviation::name) != note.outliers.listed.end();
    });
    if (further.count > 0)
      text +=
          wrapped(fmt::format("{}: {} beyond the chart's limits, cents.", note_name(tally, note.note), named(further)),
                  2, columns);
  }
  return text;
}

std::string moments_text(const char* what, const Moments& moments, int places, const char* unit, std::size_t columns) {
  const auto sd = sample_sd(moments);
  if (!sd) return "";
  return wrapped(fmt::format("{}: {} {} (SD {}, {} to {}).", what, fixed(moments.mean, places), unit,
                             fixed(*sd, places), fixed(moments.min, places), fixed(moments.max, places)),
                 2, columns);
}

std::string repeat_text(const BenchFindings& findings, std::size_t columns) {
  double square = 0;
  double degrees = 0;
  for (const NoteFinding& note : findings.notes)
    if (note.repeatability) {
      square += note.repeatability->sd * note.repeatability->sd * static_cast<double>(note.repeatability->degrees);
      degrees += static_cast<double>(note.repeatability->degrees);
    }
  if (!(degrees > 0)) return "";
  return wrapped(
      fmt::format("Measured again, a note of one instrument comes out within {} cents (SD; takes of the same "
                  "serial, stage and head).",
                  fixed(std::sqrt(square / degrees), 2)),
      2, columns);
}

std::string gauge_text(const BenchTally& tally, const BenchFindings& findings, std::size_t columns) {
  std::vector<std::vector<std::string>> rows;
  for (const NoteFinding& note : findings.notes) {
    if (!note.gauge) continue;
    const auto categories = [](const std::optional<GaugeStudy>& study) {
      return study && study->distinct_categories ? std::to_string(*study->distinct_categories) : std::string();
    };
    rows.push_back({note_name(tally, note.note), fixed(note.gauge->repeatability.sd, 2),
                    fixed(note.gauge->reproducibility.sd, 2), fixed(note.gauge->part.sd, 2),
                    fixed(note.gauge->gauge.percent, 1), categories(note.gauge), categories(note.gauge_by_range)});
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
                {"ndc", true},
                {"by ranges", true}},
               rows) +
         wrapped(
             "  SD in cents, by analysis of variance; gauge %: of the whole SD, below 10 is good, above 30 is not "
             "(AIAG, Measurement Systems Analysis, 4th ed.); ndc: kinds of instrument that the measuring tells apart, "
             "5 at least",
             2, columns);
}

/// The note on which the group stands farthest from the rest, of those that are sure.
std::string group_line(const BenchTally& tally, const GroupFinding& group, std::size_t columns) {
  const GroupNote* farthest = nullptr;
  for (const GroupNote& note : group.notes) {
    const bool is_sure = std::abs(note.above_rest.cents) > note.above_rest.u95_cents;
    if (is_sure && (!farthest || std::abs(note.above_rest.cents) > std::abs(farthest->above_rest.cents)))
      farthest = &note;
  }
  const std::string counts = counts_in_words(group.verdicts);
  if (group.notes.empty())
    return wrapped(fmt::format("  {}: {} It cannot be set against the rest: both need two instruments at least.",
                               group.name, counts),
                   4, columns);
  if (farthest == nullptr)
    return wrapped(fmt::format("  {}: {} No note differs from the rest by more than chance.", group.name, counts), 4,
                   columns);
  const auto [cents, u95_cents] = farthest->above_rest;
  return wrapped(fmt::format("  {}: {} Most apart on {}: {} ({}) cents {} than the rest.", group.name, counts,
                             note_name(tally, farthest->note), fixed(std::abs(cents), 1), plus_minus(u95_cents, 1),
                             cents > 0 ? "sharper" : "flatter"),
                 4, columns);
}

std::string groups_text(const BenchTally& tally, const BenchFindings& findings, std::size_t columns) {
  if (findings.groups.empty()) return "";
  std::string text =
      "\n" + wrapped("Each group against the rest (one note in twenty differs by chance alone):", 0, columns);
  for (const GroupFinding& group : findings.groups) text += group_line(tally, group, columns);
  if (tally.groups_are_too_many)
    text += wrapped("More groups came than there was room for; the rest are left out.", 2, columns);
  return text;
}

std::string rise_words(const CentsEstimate& rise) {
  return fmt::format("{} by {} cents ({})", rise.cents > 0 ? "risen" : "fallen", fixed(std::abs(rise.cents), 1),
                     plus_minus(rise.u95_cents, 1));
}

/// Of what has not surely risen or fallen: how much could still go unseen.
std::string stillness_words(const CentsEstimate& rise) {
  return fmt::format("No drift of it is seen, but up to {} cents would go unseen",
                     fixed(std::abs(rise.cents) + rise.u95_cents, 1));
}

bool is_real(const std::optional<CentsEstimate>& rise) { return rise && std::abs(rise->cents) > rise->u95_cents; }

std::string keeper_text(const BenchTally& tally, const BenchFindings& findings, std::size_t columns) {
  if (!tally.rules.keeper) return "";
  if (!findings.keeper)
    return wrapped("\nThe keeper " + *tally.rules.keeper + " is in none of these takes.", 2, columns);
  const SeriesFinding& keeper = *findings.keeper;
  std::string text = fmt::format("\nThe keeper {}, {}, is at home at A4 = {} Hz on the mean", *tally.rules.keeper,
                                 count_in_words(keeper.takes, "take"), fixed(keeper.mean_home_a4_hz, 2));
  if (keeper.days) {
    text += fmt::format("; {} takes a day: means of a day from {} to {} cents from that, SD within a day {}",
                        keeper.days->subgroup_size, tenths(keeper.days->mean_lower), tenths(keeper.days->mean_upper),
                        fixed(keeper.days->sigma, 2));
    if (keeper.days_beyond.count > 0) text += "; beyond it: " + named(keeper.days_beyond);
  } else if (keeper.chart) {
    text += fmt::format("; chart: {} to {} cents from that", tenths(keeper.chart->lower), tenths(keeper.chart->upper));
    if (keeper.beyond_chart.count > 0) text += "; beyond it: " + named(keeper.beyond_chart);
  }
  text += ". ";
  const bool instruments_moved = findings.instruments && is_real(findings.instruments->rise);
  if (is_real(keeper.rise)) {
    text += "It has " + rise_words(*keeper.rise) +
            ": the measuring drifts (warmth, blowing, the recorder's clock), not only the instruments.";
  } else if (keeper.rise) {
    text += stillness_words(*keeper.rise);
    text += instruments_moved ? "; the instruments have " + rise_words(*findings.instruments->rise) +
                                    ": what is beyond that is drift of the instruments."
                              : ".";
  }
  return wrapped(text, 2, columns);
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
  if (tally.stages.size() > 1 && !tally.rules.stage && tally.rules.group_by != GroupBy::stage)
    say("The stages " + list_in_words({tally.stages.begin(), tally.stages.end()}) +
        " are counted side by side, an instrument once at each; --stage STAGE counts one alone.");
  if (tally.duplicates > 0)
    say(fmt::format(
        "warning: {} counted though one of the same serial and stage was counted before; give all takes of an "
        "instrument to one batch, or to one shard.",
        tally.duplicates == 1 ? "1 result was" : fmt::format("{} results were", tally.duplicates)));
  if (tally.made.left_out() > 0)
    say(fmt::format("Charts, outliers and advice are of the last {} instruments.", Production::most_instruments));
  if (tally.repeatability.closed_early() > 0)
    say("warning: takes of one instrument lie too far apart in these results; some repeats were not seen as such.");
  return text.empty() ? "" : "\n" + text;
}

}  // namespace

std::string bench_statistics_text(const BenchTally& tally, const BenchFindings& findings, std::size_t columns) {
  if (findings.notes.empty()) return keeper_text(tally, findings, columns) + doubts_text(tally, columns);
  std::string text = "\n" + notes_table(tally, findings, columns) + legend(tally, findings, columns);
  text += targets_text(tally, columns) + "\n";
  text += moments_text("The heads come to rest", tally.head_rests_mm, 1, "mm out", columns);
  text += moments_text("At home at A4 as recorded", tally.home_a4_hz, 1, "Hz", columns);
  text += moments_text("Upper notes against lower ones", tally.octave_cents, 1, "cents", columns);
  text += deviations_text(tally, findings, columns) + repeat_text(findings, columns);
  text += gauge_text(tally, findings, columns) + groups_text(tally, findings, columns);
  text += keeper_text(tally, findings, columns);
  if (findings.advice) text += advice_to_maker(*findings.advice, *tally.model, columns);
  return text + doubts_text(tally, columns);
}

}  // namespace windway
