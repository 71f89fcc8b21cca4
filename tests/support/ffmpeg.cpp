// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/ffmpeg.hpp"

#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cerrno>
#include <cmath>
#include <stdexcept>

namespace windway::synthesis {

bool run_ffmpeg(const std::vector<std::string>& arguments) {
  std::vector<std::string> words{"ffmpeg", "-nostdin", "-y", "-loglevel", "error"};
  words.insert(words.end(), arguments.begin(), arguments.end());
  std::vector<char*> argv;
  for (std::string& word : words) argv.push_back(word.data());
  argv.push_back(nullptr);
  pid_t pid = 0;
  const int failure = posix_spawnp(&pid, argv[0], nullptr, nullptr, argv.data(), environ);
  if (failure == ENOENT) return false;
  int status = 0;
  if (failure == 0) {
    while (waitpid(pid, &status, 0) < 0 && errno == EINTR) {
    }
  }
  if (failure != 0 || status != 0) throw std::runtime_error("ffmpeg failed: " + words.back());
  return true;
}

bool has_ffmpeg() {
  static const bool there = run_ffmpeg({"-f", "lavfi", "-i", "anullsrc", "-t", "0.01", "-f", "null", "-"});
  return there;
}

void convert_sound(const std::string& from, const std::string& to, const std::string& codec, double kbit_s) {
  std::vector<std::string> words{"-i", "file:" + from, "-c:a", codec};
  if (kbit_s > 0.0) words.insert(words.end(), {"-b:a", std::to_string(std::lround(kbit_s)) + "k"});
  words.push_back("file:" + to);
  if (!run_ffmpeg(words)) throw std::runtime_error("there is no ffmpeg");
}

}  // namespace windway::synthesis
