// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <string>

#include "bench/bench_entry.hpp"
#include "bench/hole_advice.hpp"

namespace windway {

/// The errors that the bench's instruments have in common, as what the next ones should have otherwise, with the usual
/// cautions. `model` says how their notes are spelt.
std::string advice_to_maker(const BenchAdvice& advice, const BenchEntry& model, std::size_t columns);

/// One degree's advice, a sentence: "A5 and A6 are 5.9 cents flat (± 0.4): ..."; where its notes differ, a second one.
std::string degree_in_words(const HoleAdvice& degree, const BenchEntry& model);

}  // namespace windway
