// SPDX-License-Identifier: GPL-3.0-or-later
#include "results/results_file.hpp"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <system_error>
#include <utility>

#include "error.hpp"
#include "results/joined_results.hpp"
#include "results/output_file.hpp"
#include "results/read_lines.hpp"

namespace windway {
namespace {

constexpr std::size_t tail_block_bytes = std::size_t{1} << 20U;

std::uint64_t size_of(int descriptor) {
  struct stat status {};
  return fstat(descriptor, &status) == 0 ? static_cast<std::uint64_t>(status.st_size) : 0;
}

/// Fills `text` from the file; what lies behind its end is left out. Gives 0, or the errno that stopped it.
int read_at(int descriptor, std::uint64_t offset, std::string& text) {
  std::size_t filled = 0;
  while (filled < text.size()) {
    const ssize_t got =
        pread(descriptor, text.data() + filled, text.size() - filled, static_cast<off_t>(offset + filled));
    if (got < 0 && errno != EINTR) return errno;
    if (got == 0) break;
    if (got > 0) filled += static_cast<std::size_t>(got);
  }
  text.resize(filled);
  return 0;
}

/// Closes a descriptor at its end.
struct Closing {
  int descriptor;
  ~Closing() { close(descriptor); }
};

}  // namespace

ResultsFile::ResultsFile(const std::string& path, bool goes_on) : path_(path) {
  open_and_lock();
  if (!goes_on && size_of(descriptor_) > 0) {
    close(descriptor_);
    descriptor_ = -1;
    throw Error(ErrorKind::usage, path + " has results already: add --resume to go on with them, or name another file");
  }
  cut_off_part_of_a_line();
}

ResultsFile::~ResultsFile() {
  if (descriptor_ >= 0) close(descriptor_);
}

void ResultsFile::fail(int error_number) const {
  throw Error(ErrorKind::output,
              "cannot write the results " + path_ + ": " + std::generic_category().message(error_number));
}

void ResultsFile::open_and_lock() {
  descriptor_ = open(path_.c_str(), O_RDWR | O_CREAT | O_APPEND | O_CLOEXEC, 0666);
  if (descriptor_ < 0) fail(errno);
  struct stat status {};
  const bool is_plain = fstat(descriptor_, &status) == 0 && S_ISREG(status.st_mode);
  const bool is_locked = flock(descriptor_, LOCK_EX | LOCK_NB) == 0 || errno != EWOULDBLOCK;
  // Another run may have put a new file in its place between the opening and the lock: this one is nobody's any more.
  struct stat named {};
  const bool is_free = is_locked && stat(path_.c_str(), &named) == 0 && named.st_ino == status.st_ino;
  if (is_plain && is_free) return;
  close(descriptor_);
  descriptor_ = -1;
  throw Error(ErrorKind::output,
              "cannot write the results " + path_ +
                  (is_plain ? ": another run of windway is writing it; wait for it, or name another file"
                            : ": it is not a plain file"));
}

void ResultsFile::cut_off_part_of_a_line() {
  std::uint64_t end = size_of(descriptor_);
  std::string block;
  while (end > 0) {
    const std::uint64_t begin = end > tail_block_bytes ? end - tail_block_bytes : 0;
    block.resize(static_cast<std::size_t>(end - begin));
    if (const int failure = read_at(descriptor_, begin, block)) fail(failure);
    const std::size_t feed = block.rfind('\n');
    end = feed == std::string::npos ? begin : begin + feed + 1;
    if (feed != std::string::npos) break;
  }
  if (end == size_of(descriptor_)) return;
  check_that_it_is_ours(end);
  if (ftruncate(descriptor_, static_cast<off_t>(end)) != 0) fail(errno);
}

/// Whoever names another file by mistake must not lose the end of it.
void ResultsFile::check_that_it_is_ours(std::uint64_t part) const {
  std::string begin(begins_a_result.size(), '\0');
  if (const int failure = read_at(descriptor_, part, begin)) fail(failure);
  if (begins_a_result.starts_with(begin)) return;  // a part may be shorter still
  throw Error(ErrorKind::usage,
              path_ + " ends with a line that is not a result of windway batch; name another file for --results");
}

void ResultsFile::read_through(const std::function<void(std::string_view, LinePlace)>& see) const {
  if (lseek(descriptor_, 0, SEEK_SET) < 0) fail(errno);
  std::uint64_t offset = 0;
  try {
    read_lines(descriptor_, [&](std::string_view line) {
      see(line, {offset, line.size() + 1});
      offset += line.size() + 1;
    });
  } catch (const std::system_error& failure) {
    fail(failure.code().value());
  }
}

std::string ResultsFile::line_at(LinePlace place) const {
  std::string line(static_cast<std::size_t>(place.length), '\0');
  if (const int failure = read_at(descriptor_, place.offset, line)) fail(failure);
  return line;
}

void ResultsFile::replace_with(std::size_t count, const std::function<std::string(std::size_t)>& line_of) {
  OutputFile file(path_);
  for (std::size_t line = 0; line < count; ++line)
    if (const int failure = write_all(file.descriptor(), line_of(line))) fail(failure);
  if (fsync(file.descriptor()) != 0) fail(errno);
  // Locked before it is in its place, or another run could take it over there.
  const int replacement = fcntl(file.descriptor(), F_DUPFD_CLOEXEC, 0);
  if (replacement < 0) fail(errno);
  flock(replacement, LOCK_EX | LOCK_NB);
  fcntl(replacement, F_SETFL, O_APPEND);
  const Closing old{std::exchange(descriptor_, replacement)};
  file.finish("");
}

LinePlace ResultsFile::append(const std::string& line) {
  const LinePlace place{size_of(descriptor_), line.size()};
  if (const int failure = write_all(descriptor_, line)) fail(failure);
  return place;
}

void ResultsFile::flush() const {
  if (fsync(descriptor_) != 0 && errno != EINVAL && errno != EROFS) fail(errno);
}

}  // namespace windway
