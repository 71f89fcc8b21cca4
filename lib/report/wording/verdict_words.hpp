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

/// What was judged, once each: "each note, the spread from soft to hard, the octaves".
std::string criteria_in_words(const std::vector<EntryJudged>& judged);

/// "passes", "fails", "too close to call", "not measured".
const char* verdict_in_words(VerdictResult result);

}  // namespace windway
