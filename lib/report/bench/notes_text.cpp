// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/bench/notes_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include "report/wording/figures.hpp"
#include "report/wording/prose.hpp"
#include "report/wording/words.hpp"
#include "units/coverage_factor.hpp"

namespace windway {
namespace {

/// Of fewer, 5 % are less than one instrument.
constexpr std::uint64_t least_for_shares = 20;

std::string range_words(double lower, double upper) { return signed_tenths(lower) + " to " + signed_tenths(upper); }

std::string range_cell(const NoteFinding& note) {
  const auto range = usual_range(note);
  return range ? range_words(range->lower_cents, range->upper_cents) : "";
}

/// The mean lies surely beyond a third of the tolerance: there it takes even a Cp of 2 down to a Cpk of 1.33, and what
/// all instruments have in common can be put right.
bool is_off_centre(const NoteFinding& note) {
  if (!note.capability || !note.tolerance_cents || !note.sd_cents) return false;
  const auto n = static_cast<double>(note.left.n);
  const double u95_cents = u95_factor(n - 1.0) * *note.sd_cents / std::sqrt(n);
  return std::abs(note.left.mean) - u95_cents > *note.tolerance_cents / 3.0;
}

/// Six SDs are wider than the tolerance; or the Cpk is below 1, and no mean that is far off is to blame.
bool is_too_wide(const NoteFinding& note) {
  if (!note.capability) return false;
  return note.capability->cp < 1.0 || (note.capability->cpk < 1.0 && !is_off_centre(note));
}

std::string mark_of(const NoteFinding& note) {
  const bool is_off = is_off_centre(note);
  if (is_too_wide(note)) return is_off ? "both" : "too wide";
  return is_off ? "off centre" : "";
}

std::vector<std::string> row_of(const BenchTally& tally, const NoteFinding& note) {
  return {spelt(*tally.model, note.note),
          std::to_string(note.left.n),
          signed_tenths(note.left.mean),
          note.sd_cents ? fixed(*note.sd_cents, 1) : "",
          signed_tenths(note.left.min),
          signed_tenths(note.left.max),
          range_cell(note),
          note.capability ? fixed(note.capability->cpk, 2) : "",
          mark_of(note)};
}

bool any_of(const BenchFindings& findings, bool (*is_so)(const NoteFinding&)) {
  return std::ranges::any_of(findings.notes, is_so);
}

Grid notes_table(const BenchTally& tally, const BenchFindings& findings) {
  std::vector<std::vector<std::string>> rows;
  for (const NoteFinding& note : findings.notes) rows.push_back(row_of(tally, note));
  std::vector<Column> heads{{"note"},
                            {"n", true},
                            {"mean", true},
                            {"SD", true},
                            {"flattest", true, 1},
                            {"sharpest", true, 1},
                            {"usual range", true},
                            {"Cpk", true},
                            {""}};
  if (any_capability(findings)) return {heads, rows};
  heads.resize(heads.size() - 2);
  for (auto& row : rows) row.resize(heads.size());
  return {heads, rows};
}

/// How surely the least surely known Cpk is, and what the marks say; empty where there is none.
std::vector<std::string> capability_legend(const BenchFindings& findings) {
  std::optional<std::size_t> least;
  for (const NoteFinding& note : findings.notes)
    if (note.capability) least = std::min(least.value_or(note.left.n), note.left.n);
  if (!least) return {};
  // 1.33: AIAG, Statistical Process Control, from memory.
  std::vector<std::string> sentences{
      fmt::format("A Cpk above 1.33 is comfortable; from {} it is known to about ± {:.0f} %.",
                  count_in_words(*least, "instrument"), 100.0 * capability_u95_share(*least))};
  if (any_of(findings, is_too_wide))
    sentences.emplace_back("Too wide: the instruments scatter too much for the tolerance.");
  if (any_of(findings, is_off_centre))
    sentences.emplace_back("Off centre: the mean of all is off by more than a third of the tolerance.");
  return sentences;
}

Prose legend(const BenchTally& tally, const BenchFindings& findings) {
  Prose prose = words("  " + cents_legend(tally), 2);
  prose += words("  " + range_legend(findings), 2);
  for (const std::string& sentence : capability_legend(findings)) prose += words("  " + sentence, 2);
  return prose;
}

/// Those beyond the chart's limits that are no outliers as well.
NamedDeviations further_beyond(const NoteFinding& note) {
  NamedDeviations further = note.beyond_chart;
  further.count -= std::erase_if(further.listed, [&](const NamedDeviation& each) {
    return std::ranges::find(note.outliers.listed, each.name, &NamedDeviation::name) != note.outliers.listed.end();
  });
  return further;
}

}  // namespace

std::optional<UsualRange> usual_range(const NoteFinding& note) {
  if (note.left.n >= least_for_shares && note.share_5_cents && note.share_95_cents)
    return UsualRange{*note.share_5_cents, note.median_cents.value_or(note.left.mean), *note.share_95_cents};
  if (!note.sd_cents) return std::nullopt;
  const double two_sd_cents = 2.0 * *note.sd_cents;
  return UsualRange{note.left.mean - two_sd_cents, note.left.mean, note.left.mean + two_sd_cents};
}

bool any_capability(const BenchFindings& findings) {
  return any_of(findings, [](const NoteFinding& note) { return note.capability.has_value(); });
}

std::string cents_legend(const BenchTally& tally) {
  return fmt::format("Cents from the target (A4 = {} Hz), at moderate breath, with each head at its best place.",
                     shortest(tally.model->a4_hz));
}

std::string range_legend(const BenchFindings& findings) {
  const auto has_shares = [](const NoteFinding& note) { return note.left.n >= least_for_shares; };
  const std::string shares = "9 of 10 instruments are in it";
  if (std::ranges::all_of(findings.notes, has_shares)) return "Usual range: " + shares + ".";
  if (std::ranges::none_of(findings.notes, has_shares)) return "Usual range: mean ± 2 SD.";
  return fmt::format("Usual range: {}; for notes of fewer than {} instruments, mean ± 2 SD.", shares, least_for_shares);
}

Prose deviations_prose(const BenchTally& tally, const BenchFindings& findings) {
  Prose far, out_of_step;
  for (const NoteFinding& note : findings.notes) {
    const std::string name = "  " + spelt(*tally.model, note.note) + ": ";
    if (note.outliers.count > 0) far += words(name + named(note.outliers), 4);
    const NamedDeviations further = further_beyond(note);
    if (further.count > 0) out_of_step += words(name + named(further), 4);
  }
  Prose prose;
  if (!far.empty()) prose += Prose(Gap{}) + words("Far from the rest, cents:") + far;
  if (!out_of_step.empty())
    prose += Prose(Gap{}) + words("Out of step with the instruments made before and after, cents:") + out_of_step;
  const auto has_chart = [](const NoteFinding& note) { return note.chart.has_value(); };
  if (std::ranges::none_of(findings.notes, has_chart))
    prose += words(fmt::format("It takes {} instruments to show which are out of step.", least_chart_values), 2);
  return prose;
}

std::string named(const NamedDeviations& deviations, std::size_t most_names) {
  std::vector<std::string> words;
  for (std::size_t i = 0; i < std::min(deviations.listed.size(), most_names); ++i)
    words.push_back(fmt::format("{} ({})", deviations.listed[i].name, signed_fixed(deviations.listed[i].cents, 1)));
  if (deviations.count > words.size()) words.push_back(fmt::format("{} more", deviations.count - words.size()));
  return list_in_words(words);
}

Prose notes_table_prose(const BenchTally& tally, const BenchFindings& findings) {
  return Prose(notes_table(tally, findings)) + legend(tally, findings);
}

Prose notes_prose(const BenchTally& tally, const BenchFindings& findings) {
  return notes_table_prose(tally, findings) + deviations_prose(tally, findings);
}

}  // namespace windway
