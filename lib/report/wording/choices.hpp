// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <cassert>
#include <optional>
#include <string_view>
#include <type_traits>

#include "manifest/subject.hpp"
#include "measurement.hpp"
#include "takes/counting.hpp"
#include "verdict/verdict.hpp"

namespace windway {

/// The words of JSON and CSV for each value of a choice, in the order of its values; they are part of the contract.
template <typename Choice>
inline constexpr std::array<const char*, 0> choice_words{};
template <>
inline constexpr std::array choice_words<NoteNames>{"english", "german"};
template <>
inline constexpr std::array choice_words<Kind>{"whistle", "recorder"};
template <>
inline constexpr std::array choice_words<Blow>{"soft", "moderate", "hard", "swell"};
template <>
inline constexpr std::array choice_words<NotHeld>{"too_short", "too_high", "roaming", "out_of_range", "too_faint"};
template <>
inline constexpr std::array choice_words<BreathAdvice>{"as_it_is", "softer", "harder", "out_of_reach"};
template <>
inline constexpr std::array choice_words<SlideLimit>{"fully_in", "travel", "fixed_head"};
template <>
inline constexpr std::array choice_words<VerdictFrom>{"last", "all"};
template <>
inline constexpr std::array choice_words<VerdictResult>{"pass", "fail", "too_close", "not_measured"};
template <>
inline constexpr std::array choice_words<Criterion>{"take",   "heard",      "note",       "spread",
                                                    "octave", "head_place", "reach_of_a4"};

template <>
inline constexpr std::array choice_words<GroupBy>{"head",  "lot", "material", "operator",
                                                  "stage", "day", "week",     "month"};
template <>
inline constexpr std::array choice_words<HoleWork>{"none", "enlarge", "fill", "shorten", "lengthen", "no_one_hole"};

template <typename Choice>
requires std::is_enum_v<Choice>
constexpr const char* word_of(Choice choice) {
  static_assert(!choice_words<Choice>.empty());
  assert(static_cast<std::size_t>(choice) < choice_words<Choice>.size());
  return choice_words<Choice>[static_cast<std::size_t>(choice)];
}

/// The choice of that word; empty where there is none.
template <typename Choice>
std::optional<Choice> choice_called(std::string_view word) {
  static_assert(!choice_words<Choice>.empty());
  for (std::size_t choice = 0; choice < choice_words<Choice>.size(); ++choice)
    if (word == choice_words<Choice>[choice]) return static_cast<Choice>(choice);
  return std::nullopt;
}

}  // namespace windway
