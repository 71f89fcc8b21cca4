// SPDX-License-Identifier: GPL-3.0-or-later
#include "takes/resume.hpp"

#include <filesystem>
#include <map>
#include <set>
#include <system_error>

#include "takes/true_path.hpp"

namespace windway {
namespace {

bool is_there(const std::string& path) {
  std::error_code failure;
  return std::filesystem::exists(path, failure);
}

}  // namespace

ResumePlan plan_resume(const std::vector<ResultKey>& kept, const std::vector<ResultKey>& wanted) {
  std::multimap<std::string, std::size_t> wanted_at;  // names that are not UTF-8 may be written alike
  for (std::size_t i = 0; i < wanted.size(); ++i) wanted_at.emplace(true_path(wanted[i].path), i);
  std::set<std::string> wanted_content;
  for (const ResultKey& key : wanted)
    if (!key.sha256.empty()) wanted_content.insert(key.sha256);
  ResumePlan plan{std::vector<bool>(kept.size(), true), std::vector<std::optional<std::size_t>>(wanted.size())};
  for (std::size_t i = 0; i < kept.size(); ++i) {
    const auto [begin, end] = wanted_at.equal_range(true_path(kept[i].path));
    plan.stays[i] = begin == end && (!wanted_content.contains(kept[i].sha256) || is_there(kept[i].path));
    for (auto at = begin; at != end && !plan.stays[i]; ++at) {
      auto& done_by = plan.done_by[at->second];
      plan.stays[i] = !done_by && kept[i] == wanted[at->second];
      if (plan.stays[i]) done_by = i;
    }
  }
  return plan;
}

}  // namespace windway
