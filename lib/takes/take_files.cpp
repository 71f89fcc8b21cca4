// SPDX-License-Identifier: GPL-3.0-or-later
#include "takes/take_files.hpp"

#include <algorithm>
#include <filesystem>
#include <istream>
#include <iterator>
#include <set>
#include <system_error>

#include "manifest/sound_endings.hpp"
#include "manifest/true_path.hpp"

namespace windway {
namespace {

namespace fs = std::filesystem;

/// Gathers the files of one folder.
class FolderSearch {
 public:
  void search(const fs::path& folder) {
    if (!searched_.insert(true_path(folder.string())).second) return;  // links may form a circle
    std::error_code failure;
    std::vector<fs::path> inner;
    fs::directory_iterator entry(folder, failure);
    for (const fs::directory_iterator end; !failure && entry != end; entry.increment(failure))
      if (!entry->path().filename().string().starts_with('.')) inner.push_back(entry->path());
    if (failure) found_.takes.push_back(folder.string());  // its row will say why it cannot be read
    std::ranges::sort(inner);
    for (const fs::path& path : inner) add(path);
  }

  TakeFiles found() && {
    std::ranges::sort(found_.takes);
    std::ranges::sort(found_.passed_over);
    found_.folders = std::move(searched_);
    return std::move(found_);
  }

 private:
  void add(const fs::path& path) {
    std::error_code failure;
    if (fs::is_directory(path, failure)) return search(path);
    (is_named_as_take(path.string()) ? found_.takes : found_.passed_over).push_back(path.string());
  }

  std::set<std::string> searched_;
  TakeFiles found_;
};

TakeFiles files_in(const std::string& folder) {
  FolderSearch search;
  search.search(folder);
  return std::move(search).found();
}

bool is_blank(const std::string& text) { return text.find_first_not_of(" \t\r\n") == std::string::npos; }

}  // namespace

bool is_named_as_take(const std::string& path) {
  std::error_code failure;
  const fs::file_status status = fs::status(path, failure);
  const bool can_be_take = fs::is_regular_file(status) || status.type() == fs::file_type::not_found || failure;
  return can_be_take && has_sound_ending(fs::path(path).filename().string());
}

TakeFiles take_files(const std::vector<std::string>& paths) {
  TakeFiles all;
  std::set<std::string> taken;
  std::set<std::string> passed_over;
  const auto take = [&](const std::string& path) {
    if (taken.insert(true_path(path)).second) all.takes.push_back(path);
  };
  for (const std::string& path : paths) {
    std::error_code failure;
    if (!fs::is_directory(path, failure)) {
      take(path);
      continue;
    }
    TakeFiles found = files_in(path);
    all.folders.merge(found.folders);
    for (const std::string& sound : found.takes) take(sound);
    for (const std::string& other : found.passed_over)
      if (passed_over.insert(true_path(other)).second) all.passed_over.push_back(other);
  }
  // A file without a sound ending may also have been given by name.
  std::erase_if(all.passed_over, [&](const std::string& path) { return taken.contains(true_path(path)); });
  return all;
}

std::vector<std::string> listed_paths(std::istream& list) {
  const std::string text{std::istreambuf_iterator<char>(list), {}};
  const char ending = text.find('\0') != std::string::npos ? '\0' : '\n';
  std::vector<std::string> paths;
  constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";
  for (std::size_t begin = text.starts_with(byte_order_mark) ? byte_order_mark.size() : 0; begin < text.size();) {
    const std::size_t end = std::min(text.find(ending, begin), text.size());
    std::string path = text.substr(begin, end - begin);
    if (ending == '\n' && path.ends_with('\r')) path.pop_back();
    if (!is_blank(path)) paths.push_back(path);
    begin = end + 1;
  }
  return paths;
}

}  // namespace windway
