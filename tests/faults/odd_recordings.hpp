// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <functional>
#include <string>
#include <vector>

namespace windway::cli_tests {

/// A recording that no recorder should make, and what windway has to make of it.
struct OddRecording {
  std::string name;
  int exit_status = 3;
  std::string words;  ///< that its answer, or its complaint, holds
  std::function<void(const std::string& path)> write;
  std::string file_name = "a.wav";
};

/// All of them, each made by its own `write`.
std::vector<OddRecording> odd_recordings();

/// A whole take of one note in this format ("wav", "flac", "ogg" or "aiff"), as bytes.
std::string whole_take(const std::string& format);

}  // namespace windway::cli_tests
