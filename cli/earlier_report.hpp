// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "shared_options.hpp"

namespace windway::cli {

// A report that an earlier run left at --output must not pass for that of a run which made none.

/// Removes what is at --output: only a plain file, none of `inputs`, and none that is named as a recording. `result`
/// may name no file.
void remove_earlier_report(const ResultOptions& result, const std::vector<std::string>& inputs);

/// Does `work`, which makes a report unless it throws or is interrupted (a status from 128 on). Where it makes none,
/// removes the earlier one, as above, and says so. `inputs` may grow meanwhile.
int without_earlier_report(const ResultOptions& result, const std::vector<std::string>& inputs,
                           const std::function<int()>& work);

/// The same for a call of batch or summary that could not be parsed: each of its words may name an input.
void remove_report_of_mistaken_call(const std::vector<std::string>& words);

}  // namespace windway::cli
