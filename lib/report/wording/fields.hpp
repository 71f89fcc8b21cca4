// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <optional>
#include <string_view>

#include "bench/verdict.hpp"
#include "measurement.hpp"

namespace windway {

// The words that JSON and CSV use for choices; they are part of the contract.
const char* field_of(NoteNames names);       ///< english, german
const char* field_of(Blow blow);             ///< soft, moderate, hard, swell
const char* field_of(BreathAdvice advice);   ///< as_it_is, softer, harder, out_of_reach
const char* field_of(SlideLimit limit);      ///< fully_in, travel, fixed_head
const char* field_of(VerdictResult result);  ///< pass, fail, too_close, not_measured
const char* field_of(Criterion criterion);   ///< take, heard, note, spread, octave, head_place, reach_of_a4

/// All of a choice's values, in the order of the schema.
template <typename Choice>
inline constexpr std::array<Choice, 0> choices{};
template <>
inline constexpr std::array choices<NoteNames>{NoteNames::english, NoteNames::german};
template <>
inline constexpr std::array choices<Blow>{Blow::soft, Blow::moderate, Blow::hard, Blow::swell};
template <>
inline constexpr std::array choices<BreathAdvice>{BreathAdvice::as_it_is, BreathAdvice::softer, BreathAdvice::harder,
                                                  BreathAdvice::out_of_reach};
template <>
inline constexpr std::array choices<SlideLimit>{SlideLimit::fully_in, SlideLimit::travel, SlideLimit::fixed_head};
template <>
inline constexpr std::array choices<VerdictResult>{VerdictResult::pass, VerdictResult::fail, VerdictResult::too_close,
                                                   VerdictResult::not_measured};
template <>
inline constexpr std::array choices<Criterion>{Criterion::take,       Criterion::heard,  Criterion::note,
                                               Criterion::spread,     Criterion::octave, Criterion::head_place,
                                               Criterion::reach_of_a4};

/// The choice of that word; empty where none is called so.
template <typename Choice>
std::optional<Choice> choice_called(std::string_view word) {
  static_assert(!choices<Choice>.empty());
  for (const Choice each : choices<Choice>)
    if (word == field_of(each)) return each;
  return std::nullopt;
}

/// Rounds a figure for the machine-readable reports to six decimals, a millionth of a cent, so that the same
/// measurement gives the same bytes; what is not finite stays so.
double rounded(double value);

}  // namespace windway
