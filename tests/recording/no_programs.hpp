// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdlib>
#include <string>

namespace windway::test {

/// As long as it lives, PATH is one folder in which no program is.
class NoPrograms {
 public:
  explicit NoPrograms(const std::string& folder) : path_(std::getenv("PATH")) { setenv("PATH", folder.c_str(), 1); }
  ~NoPrograms() { setenv("PATH", path_.c_str(), 1); }
  NoPrograms(const NoPrograms&) = delete;
  NoPrograms& operator=(const NoPrograms&) = delete;

 private:
  std::string path_;
};

}  // namespace windway::test
