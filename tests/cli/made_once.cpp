// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/made_once.hpp"

#include <unistd.h>

#include <filesystem>
#include <system_error>

namespace windway::cli_tests {

namespace fs = std::filesystem;

std::string made_once(const std::string& name, const std::function<void(const std::string&)>& make) {
  const auto built = fs::last_write_time("/proc/self/exe").time_since_epoch().count();
  const std::string of_this_program = name + "-" + fs::read_symlink("/proc/self/exe").filename().string() + "-";
  const fs::path place = fs::path(WINDWAY_BUILD_DIR) / (of_this_program + std::to_string(built));
  if (fs::exists(place)) return place.string();
  const fs::path passing = place.string() + "." + std::to_string(getpid());
  fs::create_directories(passing);
  make(passing.string());
  std::error_code another_was_first;
  fs::rename(passing, place, another_was_first);
  if (another_was_first) fs::remove_all(passing);
  for (const auto& entry : fs::directory_iterator(WINDWAY_BUILD_DIR)) {
    const std::string other = entry.path().filename().string();
    const bool is_of_an_older_program =
        other.starts_with(of_this_program) && !other.starts_with(place.filename().string());
    if (is_of_an_older_program) fs::remove_all(entry.path(), another_was_first);
  }
  return place.string();
}

}  // namespace windway::cli_tests
