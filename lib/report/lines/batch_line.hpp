// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

#include "bench/judged_take.hpp"
#include "takes/jobs.hpp"

namespace windway {

/// One take of a batch as one line of JSON Lines, its line feed included: schema windway.measurement.v1 with the keys
/// `error`, `subject`, `batch` (how the take counts) and `verdict` filled. The holds, null unless the take has them
/// asked for, come last, so that a reader who wants the verdict need not read them.
std::string batch_line(const JudgedTake& take, const std::string& program_version);

/// A path as such a line gives it back: what is no UTF-8 comes out replaced.
std::string path_as_written(const std::string& path);

/// What a take is measured and judged by, in sixteen hexadecimal digits: the same key, the same result. How the take
/// counts among others of its instrument is no part of it.
std::string settings_key(const MeasureSettings& settings, const JudgeLimits& limits, const Subject& subject,
                         const std::string& program_version);

/// Such a line, the take counting otherwise.
std::string with_counting(std::string line, const Counting& counting);

}  // namespace windway
