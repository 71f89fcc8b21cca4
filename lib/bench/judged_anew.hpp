// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "bench/bench_entry.hpp"

namespace windway {

/// The saved result as it would have been judged by other limits, without the sound. What `limits` does not ask anew
/// stays as it was judged; an octave limit that followed from the tolerance follows from the new one. A tolerance, or a
/// greatest spread, holds for every note, also for those that had one of their own. What could not be measured, or
/// was doubted as a whole, is not measured; of a take of which nothing was asked, the octave and the head's place. Of
/// criteria judged anew the messages are empty.
BenchEntry judged_anew(BenchEntry entry, const JudgeLimits& limits);

/// Judges what the head reaches at the end of its travel; where it rests at no end, nothing is left to judge.
void judge_reach(BenchEntry& entry, double tolerance_cents);

/// The criterion by its own limits again, its value having changed.
EntryJudged judged_again(EntryJudged each, double value, double u95);

/// The verdict that the criteria make together.
VerdictResult result_of(const std::vector<EntryJudged>& judged);

}  // namespace windway
