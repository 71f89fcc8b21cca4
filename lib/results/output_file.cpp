// SPDX-License-Identifier: GPL-3.0-or-later
#include "results/output_file.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <climits>
#include <csignal>
#include <cstdio>
#include <filesystem>
#include <system_error>

#include "error.hpp"

namespace windway {
namespace {

/// A file to remove when interrupted. A signal handler may touch neither the heap nor a std::string.
struct Unfinished {
  std::array<char, PATH_MAX> path{};
  volatile sig_atomic_t is_there = 0;
};

/// At most a report and a results file are written at the same time. Files are opened by one thread alone.
std::array<Unfinished, 4> unfinished_files;

/// The place of the file, where one is free and its path is not too long.
std::optional<std::size_t> remember_unfinished(const std::string& path) {
  if (path.empty() || path.size() >= PATH_MAX) return std::nullopt;
  for (std::size_t place = 0; place < unfinished_files.size(); ++place) {
    Unfinished& file = unfinished_files[place];
    if (file.is_there != 0) continue;
    path.copy(file.path.data(), path.size());
    file.path[path.size()] = '\0';
    file.is_there = 1;
    return place;
  }
  return std::nullopt;
}

/// Where a symbolic link leads, even if nothing is there yet, so that renaming replaces the file and not the link.
std::string place_of(const std::string& path) {
  namespace fs = std::filesystem;
  constexpr int most_links = 40;  // as Linux follows
  std::error_code failure;
  fs::path place = fs::canonical(path, failure);
  if (!failure) return place.string();
  if (fs::exists(path, failure)) return path;  // a pipe behind /dev/stdout has no name
  place = path;
  for (int links = 0; links < most_links; ++links) {
    const fs::path target = fs::read_symlink(place, failure);
    if (failure) break;
    place = place.parent_path() / target;  // an absolute one replaces the folder
  }
  return place.string();
}

/// The access rights that a new file would have had, or those of the file that is replaced.
mode_t rights_of(const std::string& path) {
  struct stat status {};
  if (stat(path.c_str(), &status) == 0) return status.st_mode & 0777U;
  const mode_t mask = umask(0);
  umask(mask);
  return 0666U & ~mask;
}

/// As write_all. A reader that has closed the pipe has what it wants; for a plain file this cannot happen.
int written(int descriptor, std::string_view text) {
  const int failure = write_all(descriptor, text);
  return failure == EPIPE ? 0 : failure;
}

}  // namespace

int write_all(int descriptor, std::string_view text) {
  while (!text.empty()) {
    const ssize_t count = ::write(descriptor, text.data(), text.size());
    if (count < 0 && errno != EINTR) return errno;
    if (count > 0) text.remove_prefix(static_cast<std::size_t>(count));
  }
  return 0;
}

void remove_unfinished_outputs() noexcept {
  for (const Unfinished& file : unfinished_files)
    if (file.is_there != 0) unlink(file.path.data());
}

OutputFile::OutputFile(const std::string& path) : path_(place_of(path)) {
  struct stat status {};
  const bool exists = stat(path_.c_str(), &status) == 0;
  if (exists && S_ISDIR(status.st_mode)) fail(EISDIR);
  if (exists && access(path_.c_str(), W_OK) != 0) fail(errno);
  if (!exists || S_ISREG(status.st_mode)) {
    open_beside();
  } else {
    descriptor_ = open(path_.c_str(), O_WRONLY | O_CLOEXEC);
  }
  if (descriptor_ < 0) fail(errno);
  rights_ = rights_of(path_);
  unfinished_ = remember_unfinished(passing_path_);
}

OutputFile::~OutputFile() {
  if (descriptor_ >= 0) close(descriptor_);
  if (!passing_path_.empty()) unlink(passing_path_.c_str());
  if (unfinished_) unfinished_files[*unfinished_].is_there = 0;
}

void OutputFile::open_beside() {
  const std::filesystem::path place(path_);
  passing_path_ = (place.parent_path() / ("." + place.filename().string() + ".XXXXXX")).string();
  descriptor_ = mkostemp(passing_path_.data(), O_CLOEXEC);
  if (descriptor_ < 0) passing_path_.clear();
}

void OutputFile::write(const std::string& piece) {
  if (const int failure = written(descriptor_, piece)) fail(failure);
}

void OutputFile::finish(const std::string& content) {
  int failure = written(descriptor_, content);
  if (!passing_path_.empty() && fchmod(descriptor_, rights_) != 0 && failure == 0) failure = errno;
  if (close(descriptor_) != 0 && failure == 0)
    failure = errno;  // some file systems say only here that the disk is full
  descriptor_ = -1;
  if (failure != 0) fail(failure);
  if (passing_path_.empty()) return;
  if (std::rename(passing_path_.c_str(), path_.c_str()) != 0) fail(errno);
  passing_path_.clear();
}

void OutputFile::fail(int error_number) const {
  throw Error(ErrorKind::output, "cannot write " + path_ + ": " + std::generic_category().message(error_number));
}

}  // namespace windway
