// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

#include "bench/bench_entry.hpp"

namespace windway {

/// The columns of a batch's table, RFC 4180; they never depend on the data:
///
///     take, serial, stage, lot, material, head, operator, retake, recorded_at, remark, other, counts, verdict,
///     reasons, error, slide_mm, slide_u95_mm, head_rests_mm, home_a4_hz, octave_cents, octave_u95_cents,
///     evenness_cents, note, midi, register, moderate_cents, moderate_u95_cents, moved_cents, moved_u95_cents,
///     spread_cents, spread_u95_cents, note_verdict
///
/// `other` has the further columns of the manifest as name=content, `reasons` what was not passed, both separated by ";
/// ".
std::string bench_csv_header();

/// A row for each note of the take, or one row for a take that could not be measured.
std::string bench_csv_rows(const BenchEntry& entry);

}  // namespace windway
