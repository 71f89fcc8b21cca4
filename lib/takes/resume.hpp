// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace windway {

/// Identity of a result: equal for the same unchanged take measured and judged with the same settings.
struct ResultKey {
  std::string path;    ///< as written in a line of results
  std::string sha256;  ///< empty: the file could not be read
  std::string settings_key;

  bool operator==(const ResultKey&) const = default;
};

struct ResumePlan {
  std::vector<bool> stays;                          ///< by kept result; false: a new one replaces it
  std::vector<std::optional<std::size_t>> done_by;  ///< by wanted one: the kept result that answers it
  std::vector<std::size_t> gone;                    ///< kept results that leave because their takes are gone
};

/// Decides which `kept` results remain next to the `wanted` ones. A take is measured again, and its old result dropped,
/// if its content, the settings or the path to the file differ. A moved take also loses its old result: the old path
/// has no file, and its content is wanted elsewhere. Results of other takes stay, one of each, unless the take is gone:
/// its folder is there, but no file. Where the folder is not there either, the disk may only be away.
ResumePlan plan_resume(const std::vector<ResultKey>& kept, const std::vector<ResultKey>& wanted);

}  // namespace windway
