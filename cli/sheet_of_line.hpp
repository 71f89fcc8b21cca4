// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "bench/bench_entry.hpp"
#include "measurement.hpp"
#include "repeated_notes.hpp"
#include "report/pages/sheet_page.hpp"

namespace windway::cli {

/// The instrument of a file that is given for its maker alone; empty where none is given. Throws Error (kind usage)
/// where it says no maker.
std::optional<Instrument> maker_said(const std::string& instrument_file);

/// A line that its bench does not count, or not as an instrument, is noted.
void note_counting(const BenchEntry& entry, RepeatedNotes& notes);

/// The sheet of a measurement, its maker the result's own, else the one that is said. Its warnings, and what the sheet
/// lacks, are noted. Throws Error (kind recording) where no sheet can be made, or (kind usage) where `said` is another
/// instrument.
std::string sheet_of(Measurement measurement, const SheetFacts& facts, const std::optional<Instrument>& said,
                     const std::string& name, RepeatedNotes& notes);

/// The same of a line of windway batch.
std::string sheet_of_line(const BenchEntry& entry, std::string_view line, const std::optional<Instrument>& said,
                          RepeatedNotes& notes);

}  // namespace windway::cli
