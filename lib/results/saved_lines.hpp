// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "bench/bench_entry.hpp"

namespace windway {

/// Calls `see` with each result in the files, one after the other; "-" is standard input. The first few lines that are
/// none are told to `warn`, in words; gives how many there were. Throws Error (kind recording) where a file cannot be
/// read.
std::size_t read_saved_lines(const std::vector<std::string>& files,
                             const std::function<void(const BenchEntry&, std::string_view)>& see,
                             const std::function<void(const std::string&)>& warn);

}  // namespace windway
