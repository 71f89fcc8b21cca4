// SPDX-License-Identifier: GPL-3.0-or-later
#include "batch/take_files.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <filesystem>
#include <istream>
#include <iterator>
#include <set>
#include <string_view>
#include <system_error>

namespace windway {
namespace {

namespace fs = std::filesystem;

/// What names of sound files end in: those that libsndfile reads, and what telephones record into, so that such a take
/// comes out with its remedy and is not passed over.
constexpr std::array<std::string_view, 35> sound_endings{
    "wav",   "w64",  "rf64", "wave", "bwf", "flac", "ogg", "oga", "opus", "mp3",  "mp2", "aif",
    "aiff",  "aifc", "au",   "snd",  "caf", "voc",  "paf", "svx", "iff",  "nist", "sph", "sf",
    "ircam", "mat",  "pvf",  "xi",   "htk", "sds",  "avr", "sd2", "mpc",  "m4a",  "aac"};
constexpr std::array<std::string_view, 7> telephone_endings{"3gp", "3gpp", "3ga", "amr", "webm", "mp4", "mka"};

bool is_sound_name(const fs::path& path) {
  std::string ending = path.extension().string();
  if (ending.empty()) return false;
  ending.erase(0, 1);
  std::ranges::transform(ending, ending.begin(), [](unsigned char letter) { return std::tolower(letter); });
  return std::ranges::find(sound_endings, ending) != sound_endings.end() ||
         std::ranges::find(telephone_endings, ending) != telephone_endings.end();
}

bool is_hidden(const fs::path& path) { return path.filename().string().starts_with('.'); }

/// All files in the folder, sorted; links to folders are not followed, so that no loop can be.
std::vector<fs::path> files_in(const fs::path& folder) {
  std::vector<fs::path> files;
  std::error_code failure;
  fs::recursive_directory_iterator entry(folder, fs::directory_options::skip_permission_denied, failure);
  for (const fs::recursive_directory_iterator end; !failure && entry != end; entry.increment(failure)) {
    std::error_code unknown;
    if (is_hidden(entry->path())) {
      entry.disable_recursion_pending();
    } else if (entry->is_regular_file(unknown)) {
      files.push_back(entry->path());
    }
  }
  std::ranges::sort(files, {}, [](const fs::path& path) { return path.string(); });
  return files;
}

std::string identity_of(const std::string& path) {
  std::error_code failure;
  const fs::path same = fs::weakly_canonical(path, failure);
  return failure ? path : same.string();
}

}  // namespace

TakeFiles take_files(const std::vector<std::string>& paths) {
  TakeFiles found;
  std::set<std::string> seen;
  const auto take = [&](const std::string& path) {
    if (seen.insert(identity_of(path)).second) found.takes.push_back(path);
  };
  for (const std::string& path : paths) {
    std::error_code failure;
    if (!fs::is_directory(path, failure)) {
      take(path);
      continue;
    }
    for (const fs::path& file : files_in(path)) {
      is_sound_name(file) ? take(file.string()) : found.passed_over.push_back(file.string());
    }
  }
  return found;
}

std::vector<std::string> listed_paths(std::istream& list) {
  const std::string text{std::istreambuf_iterator<char>(list), {}};
  const char ending = text.find('\0') != std::string::npos ? '\0' : '\n';
  std::vector<std::string> paths;
  for (std::size_t begin = 0; begin < text.size();) {
    const std::size_t end = std::min(text.find(ending, begin), text.size());
    std::string path = text.substr(begin, end - begin);
    if (ending == '\n' && path.ends_with('\r')) path.pop_back();
    if (!path.empty()) paths.push_back(path);
    begin = end + 1;
  }
  return paths;
}

}  // namespace windway
