// SPDX-License-Identifier: GPL-3.0-or-later
#include "batch/resume.hpp"

#include <map>

namespace windway {

ResumePlan plan_resume(const std::vector<ResultKey>& kept, const std::vector<ResultKey>& wanted) {
  std::map<std::string, std::size_t> wanted_at;
  for (std::size_t i = 0; i < wanted.size(); ++i) wanted_at.emplace(wanted[i].path, i);
  ResumePlan plan{std::vector<bool>(kept.size(), true), std::vector<std::optional<std::size_t>>(wanted.size())};
  for (std::size_t i = 0; i < kept.size(); ++i) {
    const auto found = wanted_at.find(kept[i].path);
    if (found == wanted_at.end()) continue;
    const ResultKey& now = wanted[found->second];
    auto& done_by = plan.done_by[found->second];
    plan.stays[i] = !done_by && kept[i].sha256 == now.sha256 && kept[i].settings_key == now.settings_key;
    if (plan.stays[i]) done_by = i;
  }
  return plan;
}

}  // namespace windway
