// SPDX-License-Identifier: GPL-3.0-or-later
#include "bench_writer.hpp"

#include "bench_options.hpp"
#include "call_files.hpp"
#include "call_words.hpp"
#include "earlier_report.hpp"
#include "error.hpp"
#include "options.hpp"
#include "report/pages/bench_page.hpp"
#include "results/output_file.hpp"
#include "terminal.hpp"

namespace windway::cli {

namespace {

CsvForm csv_form_of(const ResultOptions& result) {
  if (!result.has_decimal_comma) return CsvForm::point_and_commas;
  if (!result.format.starts_with("csv")) refuse("--decimal-comma is for --format csv and csv-statistics");
  return CsvForm::comma_and_semicolons;
}

std::unique_ptr<BenchReport> report_of(const ResultOptions& result, const TallyRules& rules) {
  check_figure_options(result);
  const CsvForm csv_form = csv_form_of(result);
  if (result.format == "html") return bench_page(rules, page_source());
  if (result.format == "svg") return bench_picture(result.figure);
  return bench_report(result.format, rules, WINDWAY_VERSION, columns_for(result), csv_form);
}

}  // namespace

BenchWriter::BenchWriter(const ResultOptions& result, const BenchOptions& bench, const std::vector<std::string>& inputs)
    : file_(open_result(result, inputs)), report_(report_of(result, tally_rules_of(bench))), group_by_(bench.group_by) {
  tally_.rules = tally_rules_of(bench);
  remove_earlier_report(result, inputs);
}

BenchWriter::~BenchWriter() = default;

void BenchWriter::write(const std::string& text) {
  if (text.empty()) return;
  file_ ? file_->write(text) : print(text);
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
