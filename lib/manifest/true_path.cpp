// SPDX-License-Identifier: GPL-3.0-or-later
#include "manifest/true_path.hpp"

#include <filesystem>
#include <system_error>

namespace windway {

std::string true_path(const std::string& path) {
  namespace fs = std::filesystem;
  std::error_code failure;
  const fs::path absolute = fs::absolute(path, failure);
  if (failure) return path;
  const fs::path real = fs::weakly_canonical(absolute, failure);  // empty for a circle of links
  return (failure ? absolute.lexically_normal() : real).string();
}

}  // namespace windway
