// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>

#include "bench/bench_entry.hpp"
#include "results/saved_lines.hpp"

namespace windway::cli {

/// The take of an instrument that its sheet is made of.
struct ChosenTake {
  std::size_t place = 0;  ///< among the results that are read, from 0
  std::string recorded_at;
  std::optional<int> retake;
  std::optional<VerdictResult> result;  ///< the worst of its takes at this stage that count
  bool is_of_keeper = false;
  bool is_lost = false;
  std::string why_not;  ///< the verdict's first reason, or why it was not measured
};

/// By serial, the last take that counts, of the last stage.
struct SheetChoice {
  std::map<std::string, ChosenTake> takes;
  std::map<std::string, std::string> undecided;  ///< by serial without one: why its last stage is not clear
  std::size_t without_serial = 0;                ///< takes that count and have none
  std::size_t bad_lines = 0;
  JudgeLimits limits;  ///< by which the results were judged anew; none: they are as they were
};

/// The result judged anew by what the limits ask; the bench's own flute is not judged.
BenchEntry judged_as_called(BenchEntry entry, const JudgeLimits& limits);

/// Of all the instruments, or of that one; of takes of that stage, where one is said; judged anew by what the limits
/// ask.
SheetChoice choose_takes(const SavedLines& lines, const std::optional<std::string>& serial,
                         const std::optional<std::string>& stage, const JudgeLimits& limits);

/// Calls `see` with each chosen take and its line, in the order of the results; its verdict is that of the choice.
void read_chosen(const SavedLines& lines, const SheetChoice& choice,
                 const std::function<void(const BenchEntry&, std::string_view)>& see);

}  // namespace windway::cli
