// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace windway {

/// What tells one result of a take from another: the same take, unchanged, measured and judged by the same settings.
struct ResultKey {
  std::string path;    ///< as a line of results writes it
  std::string sha256;  ///< empty: the file cannot be read
  std::string settings_key;

  bool operator==(const ResultKey&) const = default;
};

struct ResumePlan {
  std::vector<bool> stays;                          ///< by kept result: false where it was overtaken
  std::vector<std::optional<std::size_t>> done_by;  ///< by wanted one: the kept result that does it already
};

/// Which of the `kept` results still stand beside the `wanted` ones. A take that has changed, or is to be measured by
/// other settings, or is called by another way to the same file, is done anew and its old result goes. So does one that
/// was moved or that another folder leads to: no file is where its old result says, and its content is wanted. Results
/// of other takes stay.
ResumePlan plan_resume(const std::vector<ResultKey>& kept, const std::vector<ResultKey>& wanted);

}  // namespace windway
