// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "bench/bench_entry.hpp"

namespace windway {

/// One criterion that was not passed, as a sentence without its full stop: "F#5 is 21.3 cents sharp (± 0.4) after the
/// best move; tolerance 15". Empty for what passed.
std::string reason_in_words(const Judged& judged, const Instrument& instrument);

/// Gives each criterion that has no message the reason in words.
void set_messages(BenchEntry& entry);

/// What was judged and by which limits, as far as those are known: "13 notes within 12 cents, spread of 13 notes at
/// most 60 cents and the head at 2 to 8 mm out". Empty where nothing was.
std::string criteria_in_words(const std::vector<EntryJudged>& judged);

/// "passes", "fails", "too close to call", "not measured".
const char* verdict_in_words(VerdictResult result);

}  // namespace windway
