// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "batch_options.hpp"

namespace windway::cli {

/// The call with what a bench file adds, where the only path is one (`windway batch bench.toml`); else the call as it
/// is. Options that were `given` outrank the file. A bench's results are gone on with.
BatchCall with_bench_file(BatchCall call, const std::vector<std::string>& given);

}  // namespace windway::cli
