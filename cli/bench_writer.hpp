// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "bench_options.hpp"
#include "report/bench/bench_report.hpp"
#include "report/lines/read_entry.hpp"
#include "results/output_file.hpp"

namespace windway::cli {

/// Takes lines of results, one after the other, and writes the report that was asked for.
class BenchWriter {
 public:
  /// Opens the output before any work, and removes an earlier report there. Refuses one of `inputs`.
  BenchWriter(const ResultOptions& result, const BenchOptions& bench, const std::vector<std::string>& inputs);
  ~BenchWriter();
  BenchWriter(const BenchWriter&) = delete;
  BenchWriter& operator=(const BenchWriter&) = delete;

  /// A line with or without its line feed; false where it is no result of windway batch.
  bool add(std::string_view line);
  bool add(const BenchEntry& entry, std::string_view line);
  void finish();
  /// The verdicts that come have the keeper's offset of the day taken out.
  void say_by_keeper() { tally_.is_by_keeper = true; }
  /// False where --group-by asked for groups and no take has said its own.
  bool has_groups() const { return group_by_.empty(); }
  const BenchTally& tally() const { return tally_; }
  std::uint64_t taken() const { return tally_.takes; }

 private:
  void write(const std::string& text);

  std::unique_ptr<OutputFile> file_;
  std::unique_ptr<BenchReport> report_;
  BenchTally tally_;
  EntryReader reader_;
  std::string group_by_;  ///< what --group-by asks for, till a take says it
};

}  // namespace windway::cli
