// SPDX-License-Identifier: GPL-3.0-or-later
#include "takes/resume.hpp"

#include <filesystem>
#include <map>
#include <set>
#include <system_error>

#include "manifest/true_path.hpp"

namespace windway {
namespace {

namespace fs = std::filesystem;

bool exists(const std::string& path) {
  std::error_code failure;
  return fs::exists(path, failure);
}

/// A name that is no UTF-8 stands in a result with replacement characters, and says nothing of the file.
bool says_where(const std::string& path) { return path.find("\xEF\xBF\xBD") == std::string::npos; }

/// True if there is surely no such file, though its folder is there.
bool is_gone(const std::string& path) {
  std::error_code failure;
  const fs::path folder = fs::path(path).parent_path();
  return says_where(path) && fs::status(path, failure).type() == fs::file_type::not_found &&
         fs::is_directory(folder.empty() ? fs::path(".") : folder, failure);
}

/// What becomes of results of takes that are not wanted.
class OtherResults {
 public:
  explicit OtherResults(const std::vector<ResultKey>& wanted) {
    for (const ResultKey& key : wanted)
      if (!key.sha256.empty()) wanted_content_.insert(key.sha256);
  }

  bool has_moved(const ResultKey& kept) const { return wanted_content_.contains(kept.sha256) && !exists(kept.path); }

  /// False where an earlier result of the same take stays already, as in the joined results of several shards.
  bool is_first(const std::string& path) { return !says_where(path) || seen_.insert(true_path(path)).second; }

 private:
  std::set<std::string> wanted_content_;
  std::set<std::string> seen_;
};

}  // namespace

ResumePlan plan_resume(const std::vector<ResultKey>& kept, const std::vector<ResultKey>& wanted) {
  std::multimap<std::string, std::size_t> wanted_at;  // names that are not UTF-8 may be written alike
  for (std::size_t i = 0; i < wanted.size(); ++i) wanted_at.emplace(true_path(wanted[i].path), i);
  OtherResults others(wanted);
  ResumePlan plan{std::vector<bool>(kept.size(), true), std::vector<std::optional<std::size_t>>(wanted.size()), {}};
  for (std::size_t i = 0; i < kept.size(); ++i) {
    const auto [begin, end] = wanted_at.equal_range(true_path(kept[i].path));
    const bool is_other = begin == end && !others.has_moved(kept[i]);
    if (is_other && is_gone(kept[i].path)) plan.gone.push_back(i);
    plan.stays[i] = is_other && !is_gone(kept[i].path) && others.is_first(kept[i].path);
    for (auto at = begin; at != end && !plan.stays[i]; ++at) {
      auto& done_by = plan.done_by[at->second];
      plan.stays[i] = !done_by && kept[i] == wanted[at->second];
      if (plan.stays[i]) done_by = i;
    }
  }
  return plan;
}

}  // namespace windway
