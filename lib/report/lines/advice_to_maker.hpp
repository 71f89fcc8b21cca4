// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

#include "bench/bench_entry.hpp"
#include "report/wording/prose.hpp"
#include "verdict/hole_advice.hpp"
#include "verdict/verdict.hpp"

namespace windway {

/// The errors that the bench's instruments have in common, as what the next ones should have otherwise, with the usual
/// cautions. `model` says how their notes are spelt.
Prose advice_to_maker(const BenchAdvice& advice, const BenchEntry& model);

/// One degree's advice, a sentence: "A5 and A6 are 5.9 cents flat (± 0.4): ..."; where its notes differ, a second one.
std::string degree_in_words(const HoleAdvice& degree, const BenchEntry& model);

/// What work at one hole of a finished instrument would mend, a sentence or two: "A5 and A6 are 15.2 cents flat (± 1.2)
/// against the line of the other notes: open the hole that opens for A5 ...".
std::string work_in_words(const WorkAdvice& work, const Instrument& instrument);

/// What to mind before such work, for a page that has some.
Prose work_caution();

}  // namespace windway
