// SPDX-License-Identifier: GPL-3.0-or-later
#include "input/input_file.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdlib>
#include <filesystem>
#include <system_error>
#include <utility>

#include "error.hpp"

namespace windway {
namespace {

constexpr std::size_t copy_bytes = std::size_t{256} * 1024;

std::string system_text(int error_number) { return std::generic_category().message(error_number); }

[[noreturn]] void refuse(const std::string& path, const std::string& why_and_remedy) {
  throw Error(ErrorKind::recording, cannot_read(path) + ": " + why_and_remedy);
}

[[noreturn]] void refuse_to_open(const std::string& path, int error_number) {
  if (error_number == ENOENT || error_number == ENOTDIR) {
    refuse(path, "there is no such file; check its name and its folder");
  }
  if (error_number == EACCES || error_number == EPERM) {
    refuse(path, "you have no permission to read it; change its permissions or copy it to a folder of your own");
  }
  refuse(path, system_text(error_number) + "; copy it to another disk and try again");
}

int open_for_reading(const std::string& path) {
  if (path == "-") {
    if (isatty(STDIN_FILENO) == 1) refuse(path, "it is a terminal; pipe a sound file into it, or name a file");
    const int copy = fcntl(STDIN_FILENO, F_DUPFD_CLOEXEC, 0);
    if (copy < 0) refuse(path, "it is closed; pipe a sound file into it, or name a file");
    return copy;
  }
  const int descriptor = open(path.c_str(), O_RDONLY | O_CLOEXEC);
  if (descriptor < 0) refuse_to_open(path, errno);
  return descriptor;
}

std::string temporary_folder() {
  std::error_code failure;
  const std::filesystem::path folder = std::filesystem::temp_directory_path(failure);
  return failure ? "/tmp" : folder.string();
}

int nameless_temporary_file(const std::string& path) {
  std::string name = temporary_folder() + "/windway-XXXXXX";
  const int descriptor = mkostemp(name.data(), O_CLOEXEC);
  if (descriptor < 0) {
    refuse(path,
           "no temporary file can be made in " + temporary_folder() + "; set TMPDIR to a folder you can write to");
  }
  unlink(name.c_str());
  return descriptor;
}

/// False where the disk is full.
bool write_all(int descriptor, const unsigned char* bytes, std::size_t count) {
  while (count > 0) {
    const ssize_t written = write(descriptor, bytes, count);
    if (written < 0 && errno == EINTR) continue;
    if (written <= 0) return false;
    bytes += written;
    count -= static_cast<std::size_t>(written);
  }
  return true;
}

void copy_all(int from, int to, const std::string& path) {
  std::vector<unsigned char> buffer(copy_bytes);
  for (;;) {
    const ssize_t got = read(from, buffer.data(), buffer.size());
    if (got < 0 && errno == EINTR) continue;
    if (got < 0) refuse(path, system_text(errno) + "; save it as a file first");
    if (got == 0) return;
    if (!write_all(to, buffer.data(), static_cast<std::size_t>(got))) {
      refuse(path, temporary_folder() + " is full; set TMPDIR to a folder with room for the whole recording");
    }
  }
}

/// Closes its descriptor if an error is thrown.
struct Guard {
  int descriptor;
  ~Guard() {
    if (descriptor >= 0) close(descriptor);
  }
  int release() { return std::exchange(descriptor, -1); }
};

}  // namespace

std::string take_name(const std::string& path) {
  if (path == "-") return "standard input";
  return path.empty() ? "''" : path;
}

std::string cannot_read(const std::string& path) { return "cannot read " + take_name(path); }

InputFile::InputFile(const std::string& path) {
  Guard source{open_for_reading(path)};
  struct stat status {};
  if (fstat(source.descriptor, &status) != 0) refuse_to_open(path, errno);
  if (S_ISDIR(status.st_mode)) refuse(path, "it is a folder; name the sound files in it");
  if (path == "-" || !S_ISREG(status.st_mode)) {
    Guard copy{nameless_temporary_file(path)};
    copy_all(source.descriptor, copy.descriptor, path);
    if (fstat(copy.descriptor, &status) != 0) refuse_to_open(path, errno);
    std::swap(source.descriptor, copy.descriptor);
  }
  size_bytes_ = status.st_size;
  if (size_bytes_ == 0) refuse(path, "it is empty; record or copy it again");
  descriptor_ = source.release();
}

InputFile::~InputFile() { close(descriptor_); }

std::size_t InputFile::read_at(std::int64_t offset, std::span<unsigned char> bytes) const {
  std::size_t got = 0;
  while (got < bytes.size()) {
    const ssize_t more = pread(descriptor_, bytes.data() + got, bytes.size() - got, offset + static_cast<off_t>(got));
    if (more < 0 && errno == EINTR) continue;
    if (more <= 0) break;
    got += static_cast<std::size_t>(more);
  }
  return got;
}

std::vector<unsigned char> InputFile::bytes_at(std::int64_t offset, std::size_t count) const {
  std::vector<unsigned char> bytes(count);
  bytes.resize(read_at(offset, bytes));
  return bytes;
}

}  // namespace windway
