// SPDX-License-Identifier: GPL-3.0-or-later
#include "bench_options.hpp"

#include <CLI/CLI.hpp>

#include "options.hpp"
#include "report/pages/bench_page.hpp"
#include "report/wording/choices.hpp"
#include "units/read_number.hpp"

namespace windway::cli {
namespace {

HeadRange range_in(const std::string& text) {
  const std::size_t colon = text.find(':');
  const auto min_mm = number_in(std::string_view(text).substr(0, colon));
  const auto max_mm = colon == std::string::npos ? std::nullopt : number_in(std::string_view(text).substr(colon + 1));
  if (!min_mm || !max_mm || *min_mm < 0 || !(*max_mm > *min_mm)) {
    refuse("--head-out-range takes two places in mm, the smaller first, as in --head-out-range 2:6; not '" + text +
           "'");
  }
  return {*min_mm, *max_mm};
}

}  // namespace

void add_bench_options(CLI::App& command, BenchOptions& bench) {
  const std::string group = "The statistics";
  accept_choices(command
                     .add_option("--group-by", bench.group_by,
                                 "compare each head, lot, material, operator, stage, day, week\nor month with the rest")
                     ->group(group)
                     ->type_name("WHAT"),
                 {choice_words<GroupBy>.begin(), choice_words<GroupBy>.end()});
  command
      .add_option("--keeper", bench.keeper,
                  "the bench's own flute, recorded again and again: its chart\nshows drift of the measuring")
      ->group(group)
      ->type_name("SERIAL");
  command
      .add_option(
          "--stage", bench.stage,
          "judge and count only takes of this stage of the work\n(others show only how well the bench\nrepeats)")
      ->group(group)
      ->type_name("STAGE");
}

void add_limit_options(CLI::App& command, LimitOptions& limits, const std::string& else_as) {
  const std::string group = "The limits for a pass (else " + else_as + ")";
  const auto add = [&](const char* name, std::optional<double>& limit, const char* what, double most) {
    accept_numbers(command.add_option(name, limit, what)->group(group), {0.1, most, "CENTS", "cents", ""});
  };
  add("--tolerance", limits.tolerance_cents, "how far off a note may be with the head at its best place", 200);
  add("--max-spread", limits.max_spread_cents, "how far a note may rise from soft to hard", 400);
  add("--max-octave", limits.max_octave_cents,
      "how wide or narrow the octaves may be on average\n(else twice the tolerance)", 200);
  command
      .add_option("--head-out-range", limits.head_out_range,
                  "how far out the head's best place may be, mm: so a body\nof the wrong length does not pass")
      ->group(group)
      ->type_name("MIN:MAX");
}

void add_bench_result_options(CLI::App& command, ResultOptions& result, const std::vector<std::string>& formats) {
  add_result_options(command, result, formats, {{"json", "json with the statistics"}});
  add_figure_option(command, result, bench_figures());
  command
      .add_flag("--decimal-comma", result.has_decimal_comma, "csv with 0,5 for 0.5 and semicolons between the cells")
      ->group("The result");
}

TallyRules tally_rules_of(const BenchOptions& bench) {
  TallyRules rules;
  rules.group_by = choice_called<GroupBy>(bench.group_by);
  if (!bench.keeper.empty()) rules.keeper = bench.keeper;
  if (!bench.stage.empty()) rules.stage = bench.stage;
  return rules;
}

bool can_be_grouped(const TallyRules& rules, const Subject& subject) {
  if (!rules.group_by || is_keeper(rules, subject) || !is_of_stage(rules, subject)) return false;
  return !group_of(subject, *rules.group_by).empty();
}

JudgeLimits limits_of(const LimitOptions& limits) {
  JudgeLimits judged;
  judged.tolerance_cents = limits.tolerance_cents;
  judged.max_spread_cents = limits.max_spread_cents;
  judged.max_octave_cents = limits.max_octave_cents;
  if (!limits.head_out_range.empty()) judged.head_out_range_mm = range_in(limits.head_out_range);
  return judged;
}

}  // namespace windway::cli
