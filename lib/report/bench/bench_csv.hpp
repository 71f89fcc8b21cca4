// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "bench/bench_entry.hpp"
#include "report/record/csv_record.hpp"

namespace windway {

/// A batch's table, written as the takes come (RFC 4180). Its columns:
///
///     take, serial, stage, lot, material, head, operator, retake, recorded_at, remark, other, counts, verdict,
///     reasons, error, warnings, slide_mm, slide_u95_mm, head_rests_mm, home_a4_hz, octave_cents, octave_u95_cents,
///     evenness_cents, note, midi, register, moderate_cents, moderate_u95_cents, moved_cents, moved_u95_cents,
///     spread_cents, spread_u95_cents, note_verdict
///
/// and after them the further columns of the manifest, as the first take names them: a batch gives all its takes the
/// same ones. What has none of its own is in `other` as name=content: a column of another manifest, whose results were
/// put together with these, or one that is called as a column above. `reasons` has what was not passed, both separated
/// by "; ", `warnings` the codes, separated by spaces; `note_verdict` is the worst of what was asked of the note
/// itself.
class BenchCsv {
 public:
  explicit BenchCsv(CsvForm form = CsvForm::point_and_commas) : form_(form) {}

  /// A row for each note of the take, and for each that it should have and was not heard; one row for a take that could
  /// not be measured. Before the first take the header.
  std::string add(const BenchEntry& entry);
  /// The header where no take came.
  std::string finish();

 private:
  std::string header_before(const BenchEntry& entry);

  CsvForm form_;
  bool has_header_ = false;
  std::vector<std::string> own_columns_;
};

}  // namespace windway
