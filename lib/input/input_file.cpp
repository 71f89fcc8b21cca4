// SPDX-License-Identifier: GPL-3.0-or-later
#include "input/input_file.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdlib>
#include <filesystem>
#include <map>
#include <mutex>
#include <system_error>
#include <utility>

#include "error.hpp"

namespace windway {
namespace {

constexpr std::size_t copy_bytes = std::size_t{256} * 1024;
constexpr std::int64_t most_stream_bytes = std::int64_t{4} << 30U;  // as a WAV file holds at most

std::string system_text(int error_number) { return std::generic_category().message(error_number); }

[[noreturn]] void refuse_to_open(const std::string& path, int error_number) {
  if (error_number == ENOENT || error_number == ENOTDIR) {
    refuse_to_read(path, "there is no such file; check its name and its folder");
  }
  if (error_number == EACCES || error_number == EPERM) {
    refuse_to_read(path,
                   "you have no permission to read it; change its permissions or copy it to a folder of your own");
  }
  if (error_number == ELOOP) refuse_to_read(path, "it is a link that leads to itself; name the file");
  if (error_number == EMFILE) refuse_to_read(path, "too many files are open; raise the limit (ulimit -n)");
  if (error_number == ENAMETOOLONG) refuse_to_read(path, "its name is too long; give it a shorter one");
  refuse_to_read(path, system_text(error_number) + "; copy it to another disk and try again");
}

/// Of the file, or of what stands at standard input.
struct stat status_of(const std::string& path) {
  struct stat status {};
  if (path != "-") {
    if (stat(path.c_str(), &status) != 0) refuse_to_open(path, errno);
    return status;
  }
  const int access = fcntl(STDIN_FILENO, F_GETFL);
  const bool is_readable = access >= 0 && (static_cast<unsigned>(access) & O_ACCMODE) != O_WRONLY;
  if (!is_readable || fstat(STDIN_FILENO, &status) != 0)
    refuse_to_read(path, "it is closed; pipe a sound file into it, or name a file");
  if (isatty(STDIN_FILENO) == 1) refuse_to_read(path, "it is a terminal; pipe a sound file into it, or name a file");
  return status;
}

int duplicated(int descriptor) { return fcntl(descriptor, F_DUPFD_CLOEXEC, 0); }

int open_for_reading(const std::string& path) {
  if (path == "-") return duplicated(STDIN_FILENO);
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
    refuse_to_read(
        path, "no temporary file can be made in " + temporary_folder() + "; set TMPDIR to a folder you can write to");
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
  for (std::int64_t left = most_stream_bytes;;) {
    const ssize_t got = read(from, buffer.data(), buffer.size());
    if (got < 0 && errno == EINTR) continue;
    if (got < 0) refuse_to_read(path, system_text(errno) + "; save it as a file first");
    if (got == 0) return;
    left -= got;
    if (left < 0) refuse_to_read(path, "it gives more than 4 GiB; save it as a file first, and cut that into parts");
    if (!write_all(to, buffer.data(), static_cast<std::size_t>(got))) {
      refuse_to_read(path, temporary_folder() + " is full; set TMPDIR to a folder with room for the whole recording");
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

/// Bytes of a device have no end, but for those that have none.
void refuse_device(int descriptor, const std::string& path) {
  char byte = 0;
  if (read(descriptor, &byte, 1) == 1)
    refuse_to_read(path, "it is a device; name a sound file, or pipe one into windway");
}

/// What comes from standard input or a pipe, copied to a file without a name. It can be read only once, and a call may
/// look at it twice (is it a saved result?): so each stream keeps its copy as long as the program runs.
class StreamCopies {
 public:
  /// A descriptor of the copy, which the caller closes. Throws Error (kind recording).
  int copy_of(const std::string& path, const struct stat& status) {
    const std::scoped_lock lock(mutex_);
    const auto [place, is_new] = copies_.try_emplace({status.st_dev, status.st_ino});
    Copy& copy = place->second;
    if (is_new) {
      try {
        copy.descriptor = made(path, S_ISCHR(status.st_mode));
      } catch (const Error& error) {
        copy.why_none = error.what();
      }
    }
    if (copy.descriptor < 0) throw Error(ErrorKind::recording, copy.why_none);
    return duplicated(copy.descriptor);
  }

 private:
  struct Copy {
    int descriptor = -1;
    std::string why_none;
  };

  static int made(const std::string& path, bool is_device) {
    const Guard source{open_for_reading(path)};
    if (is_device) refuse_device(source.descriptor, path);
    Guard copy{nameless_temporary_file(path)};
    copy_all(source.descriptor, copy.descriptor, path);
    return copy.release();
  }

  std::mutex mutex_;
  std::map<std::pair<dev_t, ino_t>, Copy> copies_;
};

int copy_of_stream(const std::string& path, const struct stat& status) {
  static StreamCopies copies;
  return copies.copy_of(path, status);
}

}  // namespace

std::string take_name(const std::string& path) {
  if (path == "-") return "standard input";
  return path.empty() ? "''" : path;
}

std::string cannot_read(const std::string& path) { return "cannot read " + take_name(path); }

void refuse_to_read(const std::string& path, const std::string& why_and_remedy) {
  throw Error(ErrorKind::recording, cannot_read(path) + ": " + why_and_remedy);
}

InputFile::InputFile(const std::string& path) {
  struct stat status = status_of(path);
  if (S_ISDIR(status.st_mode)) refuse_to_read(path, "it is a folder; name the sound files in it");
  if (path != "-" && S_ISSOCK(status.st_mode)) refuse_to_read(path, "it is a socket; name a sound file");
  const bool is_stream = path == "-" || !S_ISREG(status.st_mode);
  Guard source{is_stream ? copy_of_stream(path, status) : open_for_reading(path)};
  if (source.descriptor < 0 || fstat(source.descriptor, &status) != 0) refuse_to_open(path, errno);
  size_bytes_ = status.st_size;
  if (size_bytes_ == 0) refuse_to_read(path, "it is empty; record or copy it again");
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
