// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <optional>
#include <string>

#include "bench/bench_findings.hpp"
#include "report/wording/prose.hpp"

namespace windway {

/// Where most instruments lie on a note, cents.
struct UsualRange {
  double lower_cents = 0;
  double middle_cents = 0;
  double upper_cents = 0;
};

/// The 5 % share, the median, the 95 % share; of fewer than 20 instruments mean ± 2 SD. Absent of one instrument.
std::optional<UsualRange> usual_range(const NoteFinding& note);

/// Whether the capability of any note is known.
bool any_capability(const BenchFindings& findings);

/// What the cents of a bench's notes are.
std::string cents_legend(const BenchTally& tally);

/// "Usual range: 9 of 10 instruments lie in it.": what it is of these notes.
std::string range_legend(const BenchFindings& findings);

/// The table of the bench's notes, what its columns mean, and which instruments stand out. There must be notes.
Prose notes_prose(const BenchTally& tally, const BenchFindings& findings);

/// The table and what its columns mean, alone.
Prose notes_table_prose(const BenchTally& tally, const BenchFindings& findings);

/// Which instruments stand out, alone; may be empty.
Prose deviations_prose(const BenchTally& tally, const BenchFindings& findings);

/// "HW-1003 (+6.1), HW-1010 (-8.0) and 12 more", cents.
std::string named(const NamedDeviations& deviations, std::size_t most_names = 8);

}  // namespace windway
