// SPDX-License-Identifier: GPL-3.0-or-later
#include "bench_writer.hpp"

#include "bench_options.hpp"
#include "call_files.hpp"
#include "earlier_report.hpp"
#include "error.hpp"
#include "options.hpp"
#include "results/output_file.hpp"
#include "terminal.hpp"

namespace windway::cli {

namespace {

CsvForm csv_form_of(const ResultOptions& result) {
  if (!result.has_decimal_comma) return CsvForm::point_and_commas;
  if (!result.format.starts_with("csv")) refuse("--decimal-comma is for --format csv and csv-statistics");
  return CsvForm::comma_and_semicolons;
}

}  // namespace

BenchWriter::BenchWriter(const ResultOptions& result, const BenchOptions& bench, const std::vector<std::string>& inputs)
    : file_(open_result(result, inputs)),
      report_(bench_report(result.format, tally_rules_of(bench), WINDWAY_VERSION, columns_for(result),
                           csv_form_of(result))),
      group_by_(bench.group_by) {
  tally_.rules = tally_rules_of(bench);
  remove_earlier_report(result, inputs);
}

BenchWriter::~BenchWriter() = default;

void BenchWriter::write(const std::string& text) {
  if (text.empty()) return;
  if (!file_) return print(text);
  if (write_all(file_->descriptor(), text) != 0)
    throw Error(ErrorKind::output, "cannot write the result: is the disk full?");
}

bool BenchWriter::add(std::string_view line) {
  if (line.ends_with('\n')) line.remove_suffix(1);
  const auto entry = reader_.read(line);
  return entry && add(*entry, line);
}

bool BenchWriter::add(const BenchEntry& entry, std::string_view line) {
  windway::add(tally_, entry);
  if (!group_by_.empty() && can_be_grouped(tally_.rules, dated_subject(entry))) group_by_.clear();
  write(report_->add(entry, line));
  return true;
}

void BenchWriter::finish() {
  const std::string text = report_->finish(tally_);
  file_ ? file_->finish(text) : print(text);
}

}  // namespace windway::cli
