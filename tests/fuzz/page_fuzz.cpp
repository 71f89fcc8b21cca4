// SPDX-License-Identifier: GPL-3.0-or-later
// Pages, pictures, tables and lines of an invented measurement whose names, serials and remarks are the input's lines.
#include "fuzz_input.hpp"
#include "report/bench/bench_report.hpp"
#include "report/lines/batch_line.hpp"
#include "report/lines/read_entry.hpp"
#include "report/measurement/invented_measurement.hpp"
#include "report/pages/bench_page.hpp"
#include "report/pages/history_page.hpp"
#include "report/pages/measurement_page.hpp"
#include "report/pages/sheet_page.hpp"
#include "sound_measurement.hpp"
#include "well_formed.hpp"

namespace windway::fuzz {
namespace {

Measurement named_measurement(Texts& texts) {
  Measurement measurement = report_tests::invented_measurement();
  Instrument& instrument = measurement.naming.instrument;
  instrument.name = texts.next();
  instrument.maker = Maker{texts.next(), {texts.next(), texts.next()}, texts.next()};
  measurement.takes.front().path = texts.next();
  measurement.breath.notes.front().id.fingering = texts.next();
  measurement.compromise->check_note.id = measurement.breath.notes.front().id;
  measurement.warnings.front().message = texts.next();
  measurement.arguments = {texts.next(), texts.next()};
  return measurement;
}

JudgedTake named_take(const Measurement& measurement, Texts& texts) {
  JudgedTake take;
  take.measurement = measurement;
  take.path = measurement.takes.front().path;
  for (const SubjectText& each : subject_texts) take.subject.*each.text = texts.next();
  take.subject.recorded_at = "2026-11-25";
  take.subject.remark = texts.next();
  take.subject.other = {{texts.next(), texts.next()}};
  take.counting.group_by = GroupBy::lot;
  take.settings_key = "0123456789abcdef";
  take.verdict = judge(measurement, {.tolerance_cents = 12, .max_spread_cents = 30});
  return take;
}

void write_bench(const BenchEntry& entry, std::string_view line) {
  const PageSource source{"1.2.3", entry.path};
  BenchTally tally;
  add(tally, entry);
  std::vector<std::unique_ptr<BenchReport>> reports;
  reports.push_back(bench_page({}, source));
  reports.push_back(bench_report("junit", {}, source.program_version));
  for (const std::string& figure : bench_figures()) reports.push_back(bench_picture(figure));
  for (const auto& report : reports) {
    std::string written = report->add(entry, line);
    unless_refused([&] { require_well_formed(written + report->finish(tally)); });
  }
  for (const char* format : {"text", "csv", "csv-statistics"}) {
    const auto report = bench_report(format, {}, source.program_version);
    report->add(entry, line);
    report->finish(tally);
  }
  require_well_formed(history_page(history_of({entry, entry}, {}), source));
}

}  // namespace
}  // namespace windway::fuzz

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t count) {
  using namespace windway;
  fuzz::Texts texts(bytes, count);
  const Measurement measurement = fuzz::named_measurement(texts);
  fuzz::write_reports(measurement);
  const JudgedTake take = fuzz::named_take(measurement, texts);
  std::string line = batch_line(take, "1.2.3");
  line.pop_back();
  const auto entry = EntryReader().read(line);
  fuzz::require(entry.has_value(), "the line reads back");
  fuzz::write_bench(*entry, line);
  fuzz::unless_refused([&] { fuzz::require_well_formed(sheet_page(measurement, sheet_facts(*entry), "1.2.3")); });
  return 0;
}
