// SPDX-License-Identifier: GPL-3.0-or-later
#include "bench_call.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "options.hpp"
#include "report/wording/choices.hpp"
#include "results/bench_file.hpp"

namespace windway::cli {
namespace {

template <typename Place, typename Value>
void set_unless_given(Place& place, const std::optional<Value>& said, bool is_given) {
  if (said && !is_given) place = *said;
}

std::optional<std::string> in_words(const std::optional<HeadRange>& range) {
  if (!range) return std::nullopt;
  return fmt::format("{}:{}", range->min_mm, range->max_mm);
}

template <typename Choice>
std::optional<std::string> in_words(const std::optional<Choice>& choice) {
  if (!choice) return std::nullopt;
  return word_of(*choice);
}

}  // namespace

BatchCall with_bench_file(BatchCall call, const std::vector<std::string>& given) {
  const auto is_bench_file = [](const std::string& path) { return path.ends_with(".toml"); };
  if (std::ranges::none_of(call.paths, is_bench_file)) return call;
  if (call.paths.size() > 1) refuse("give a bench file alone; the file itself names the takes");
  const BenchFile bench = read_bench_file(call.paths.front());
  const auto is_given = [&](const char* option) { return std::ranges::find(given, option) != given.end(); };
  call.bench_file = call.paths.front();
  call.paths = bench.takes;
  set_unless_given(call.subject.manifest, bench.manifest, is_given("--manifest"));
  set_unless_given(call.subject.serial_from, bench.serial_from, is_given("--serial-from"));
  set_unless_given(call.subject.verdict_from, in_words(bench.verdict_from), is_given("--verdict-from"));
  set_unless_given(call.take.flute.instrument, bench.instrument, is_given("--instrument"));
  set_unless_given(call.take.pitch.quote_at_c, bench.quote_at_c, is_given("--quote-at"));
  set_unless_given(call.take.blow.is_warm, bench.is_warm, is_given("--warm"));
  set_unless_given(call.bench.stage, bench.stage, is_given("--stage"));
  set_unless_given(call.bench.keeper, bench.keeper, is_given("--keeper"));
  set_unless_given(call.bench.group_by, in_words(bench.group_by), is_given("--group-by"));
  set_unless_given(call.limits.tolerance_cents, bench.tolerance_cents, is_given("--tolerance"));
  set_unless_given(call.limits.max_spread_cents, bench.max_spread_cents, is_given("--max-spread"));
  set_unless_given(call.limits.max_octave_cents, bench.max_octave_cents, is_given("--max-octave"));
  set_unless_given(call.limits.head_out_range, in_words(bench.head_out_range_mm), is_given("--head-out-range"));
  if (bench.results && !is_given("--results")) {
    call.results = *bench.results;
    call.resume = call.goes_on_by_itself = true;
  }
  if (call.paths.empty() && call.subject.manifest.empty())
    refuse(call.bench_file + " names no takes: give manifest = \"manifest.csv\" or takes = [\"takes\"]");
  return call;
}

}  // namespace windway::cli
