// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "bench/verdict.hpp"
#include "measurement.hpp"

namespace windway {

// The words that JSON and CSV use for choices; they are part of the contract.
const char* field_of(Blow blow);             ///< soft, moderate, hard, swell
const char* field_of(BreathAdvice advice);   ///< as_it_is, softer, harder, out_of_reach
const char* field_of(SlideLimit limit);      ///< fully_in, travel, fixed_head
const char* field_of(VerdictResult result);  ///< pass, fail, too_close, not_measured
const char* field_of(Criterion criterion);   ///< take, heard, note, spread, octave, head_place, reach_of_a4

/// Rounds a figure for the machine-readable reports to six decimals, a millionth of a cent, so that the same
/// measurement gives the same bytes; what is not finite stays so.
double rounded(double value);

}  // namespace windway
