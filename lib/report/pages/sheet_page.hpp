// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "bench/bench_entry.hpp"
#include "measurement.hpp"

namespace windway {

/// What the buyer's sheet says of an instrument beside its measurement.
struct SheetFacts {
  Subject subject;                        ///< with the date of the recording, whoever knew it
  std::optional<VerdictResult> result{};  ///< absent: it was not judged
  std::vector<EntryJudged> judged{};      ///< with messages
};

/// The facts of a bench's line.
SheetFacts sheet_facts(const BenchEntry& entry);

/// Why no sheet can be made of the measurement, a sentence without its full stop: it is in deep doubt, or its scale was
/// not measured. Empty: one can.
std::string why_no_sheet(const Measurement& measurement);

/// What the sheet leaves out for want of an option when the instrument was recorded, a sentence for its maker; empty:
/// nothing. `measurement` can be made a sheet of.
std::string lacking_on_sheet(const Measurement& measurement);

/// One printed A4 page for who buys the instrument: its verdict, where its head belongs, how it goes with others, how
/// hard to blow each note. The maker is the instrument's. Throws Error (kind recording) where none can be made.
std::string sheet_page(const Measurement& measurement, const SheetFacts& facts, const std::string& program_version);

/// True if `text`, a whole file, is such a page.
bool is_sheet_page(std::string_view text);

}  // namespace windway
