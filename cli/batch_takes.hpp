// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "batch_options.hpp"
#include "takes/jobs.hpp"

namespace windway::cli {

/// All takes of the call, whatever part of them --shard asks for. What was left out, and what goes through as it is,
/// is said on standard error, but not for a part, which shares its list with the others. Throws Error.
std::vector<BatchJob> jobs_of(const BatchCall& call);

/// Those of the part that --shard asks for.
std::vector<BatchJob> asked_part(const BatchCall& call, const std::vector<BatchJob>& jobs);

/// --check-manifest: prints what the manifest leaves open; gives the exit status.
int check_manifest(const BatchCall& call);

/// "a.flac, b.flac", of many the first five: "..., and 3 more".
std::string first_of(const std::vector<std::string>& names);

}  // namespace windway::cli
