// SPDX-License-Identifier: GPL-3.0-or-later
// A file of a batch's result lines: each line read by itself, and the whole file summarised in every form.
#include "bench/history.hpp"
#include "bench/judged_anew.hpp"
#include "fuzz_input.hpp"
#include "json_mutation.hpp"
#include "report/bench/bench_report.hpp"
#include "report/bench/history_report.hpp"
#include "report/lines/read_entry.hpp"
#include "report/pages/bench_page.hpp"
#include "report/pages/history_page.hpp"
#include "results/saved_lines.hpp"
#include "well_formed.hpp"

namespace windway::fuzz {
namespace {

const PageSource source{"1.2.3", "windway summary"};

std::vector<std::unique_ptr<BenchReport>> all_reports() {
  std::vector<std::unique_ptr<BenchReport>> reports;
  for (const char* format : {"text", "csv", "jsonl", "junit", "json", "csv-statistics"})
    reports.push_back(bench_report(format, {}, source.program_version));
  for (const std::string& figure : bench_figures()) reports.push_back(bench_picture(figure));
  return reports;
}

void summarise(const std::string& path) {
  const SavedLines lines({path});
  const auto reports = all_reports();
  const auto page = bench_page({}, source);
  BenchTally tally;
  std::vector<BenchEntry> entries;
  std::string html;
  lines.read(
      [&](const BenchEntry& entry, std::string_view line) {
        add(tally, entry);
        judged_anew(entry, {.tolerance_cents = 10, .max_spread_cents = 40, .head_out_range_mm = HeadRange{2, 6}});
        for (const auto& report : reports) report->add(entry, line);
        html += page->add(entry, line);
        entries.push_back(entry);
      },
      [](const std::string&) {});
  for (const auto& report : reports) unless_refused([&] { report->finish(tally); });
  require_well_formed(html + page->finish(tally));
  if (!entries.empty())
    require_well_formed(history_page(history_of(entries, bench_repeat(tally.repeatability)), source));
}

}  // namespace
}  // namespace windway::fuzz

extern "C" std::size_t LLVMFuzzerCustomMutator(std::uint8_t* bytes, std::size_t count, std::size_t most,
                                               unsigned seed) {
  return windway::fuzz::mutated_json(bytes, count, most, seed);
}

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t count) {
  using namespace windway;
  const std::string text = fuzz::text_of(bytes, count);
  EntryReader reader;
  reader.read(text);
  reader.order(text);
  const std::string whole = text + "\n";  // of JSON without a line feed
  const fuzz::MemoryFile file(whole.data(), whole.size());
  fuzz::unless_refused([&] { fuzz::summarise(file.path()); });
  return 0;
}
