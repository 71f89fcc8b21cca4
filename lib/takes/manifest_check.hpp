// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "takes/jobs.hpp"

namespace windway {

/// Sound files that no row of the manifest names, in the folders where its takes lie (not in folders within), as a row
/// would name them; sorted.
std::vector<std::string> sounds_without_row(const Manifest& manifest);

/// What a manifest leaves open, and where.
struct ManifestFinding {
  std::string what;  ///< "No file is there for 2 rows"
  std::vector<std::string> places;
  bool is_missing = false;  ///< a take, its row or its serial is missing; else it is only said
};

struct ManifestCheck {
  std::size_t takes = 0;
  std::size_t instruments = 0;
  std::vector<ManifestFinding> findings;  ///< none without a place
};

/// Looks through the takes of a call without measuring any. `list` is what batch_jobs makes of the same; `has_files`:
/// files or folders were given beside the manifest.
ManifestCheck check_of(const Manifest& manifest, const std::optional<SerialPattern>& pattern, const BatchList& list,
                       bool has_files);

}  // namespace windway
