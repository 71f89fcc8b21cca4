// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "bench/bench_findings.hpp"
#include "bench/bench_tally.hpp"
#include "report/record/csv_record.hpp"
#include "report/wording/prose.hpp"

namespace windway {

/// Writes what came of many takes, in their order, in one of the forms.
class BenchReport {
 public:
  virtual ~BenchReport() = default;
  /// Takes in one take, and its line of results; gives what can be written at once.
  virtual std::string add(const BenchEntry& entry, std::string_view line) = 0;
  /// What comes after all takes; `tally` is of the same ones.
  virtual std::string finish(const BenchTally& tally) = 0;
};

/// `format`: text, csv (a row a note), jsonl (the lines of results as they are), junit, json (the statistics alone,
/// schema windway.summary.v1) or csv-statistics (the same as a table). `rules` are those of the tally; text is at most
/// `columns` wide, csv is written in `form`.
std::unique_ptr<BenchReport> bench_report(const std::string& format, const TallyRules& rules,
                                          const std::string& program_version, std::size_t columns = text_columns,
                                          CsvForm form = CsvForm::point_and_commas);

/// What stands above the instruments after how many pass: how warm the bores were, and which takes are left out.
Prose after_counts_prose(const BenchTally& tally, const BenchFindings& findings);

/// Whether a take is one to look at again: it counts and did not pass, or it is the keeper's and was not measured.
bool goes_back(const TallyRules& rules, const BenchEntry& entry);

/// What a report says of those that it has no room for: "and 12 more; --format csv lists all of them."
std::string others_in_words(std::size_t count);

/// Whether the report advises work at a hole, so that the caution belongs to it.
bool advises_work(const BenchEntry& entry);
bool advises_work(const BenchFindings& findings);

/// Why a take did not pass, in the order in which it was judged, or why it was not measured.
std::vector<std::string> reasons_of(const BenchEntry& entry);
/// What work would mend it: "Work: A5 and A6 ...", or that none would.
std::vector<std::string> work_of(const BenchEntry& entry);

/// The statistics of the bench: a table of notes, what stands out, the advice. Empty of no instrument.
Prose bench_statistics_prose(const BenchTally& tally, const BenchFindings& findings);

/// The same as one table (RFC 4180): a row for each note of the bench, then for each note of each group, each keeper
/// and each of its days; the column `of` says which (bench, group, keeper, day), `name` of which group or keeper. The
/// first row of the bench and of each group has its verdicts. Cents of a keeper and its days are from its mean home A4.
/// Cells are empty where a column is of other rows, or there is no such figure.
std::string bench_statistics_csv(const BenchTally& tally, const BenchFindings& findings,
                                 CsvForm form = CsvForm::point_and_commas);

/// The same for programs: one JSON object, schema windway.summary.v1.
std::string bench_statistics_json(const BenchTally& tally, const BenchFindings& findings,
                                  const std::string& program_version);

/// "194 of 200 instruments pass, 4 fail, 1 is too close to call, 1 was not measured."
std::string counts_in_words(const VerdictCounts& counts);

}  // namespace windway
