// SPDX-License-Identifier: GPL-3.0-or-later
#include "output_file.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <filesystem>
#include <system_error>

#include "error.hpp"
#include "interrupt.hpp"
#include "terminal.hpp"

namespace windway::cli {
namespace {

/// Where a symbolic link leads, so that renaming replaces the file and not the link.
std::string place_of(const std::string& path) {
  std::error_code failure;
  const auto place = std::filesystem::canonical(path, failure);
  return failure ? path : place.string();
}

/// The access rights that a new file would have had, or those of the file that is replaced.
mode_t rights_of(const std::string& path) {
  struct stat status {};
  if (stat(path.c_str(), &status) == 0) return status.st_mode & 0777U;
  const mode_t mask = umask(0);
  umask(mask);
  return 0666U & ~mask;
}

}  // namespace

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
  remove_when_interrupted(passing_path_);
}

OutputFile::~OutputFile() {
  if (descriptor_ >= 0) close(descriptor_);
  if (!passing_path_.empty()) unlink(passing_path_.c_str());
  remove_when_interrupted("");
}

void OutputFile::open_beside() {
  const std::filesystem::path place(path_);
  passing_path_ = (place.parent_path() / ("." + place.filename().string() + ".XXXXXX")).string();
  descriptor_ = mkostemp(passing_path_.data(), O_CLOEXEC);
  if (descriptor_ < 0) passing_path_.clear();
}

void OutputFile::finish(const std::string& content) {
  int failure = write_all(descriptor_, content);
  // A reader that has closed the pipe has what it wants; for a plain file this cannot happen.
  if (failure == EPIPE) failure = 0;
  if (!passing_path_.empty() && fchmod(descriptor_, rights_of(path_)) != 0 && failure == 0) failure = errno;
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

}  // namespace windway::cli
