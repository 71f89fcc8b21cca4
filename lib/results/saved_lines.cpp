// SPDX-License-Identifier: GPL-3.0-or-later
#include "results/saved_lines.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <memory>
#include <string>
#include <system_error>
#include <utility>

#include "error.hpp"
#include "report/lines/batch_line.hpp"
#include "report/lines/read_entry.hpp"
#include "results/joined_results.hpp"
#include "results/output_file.hpp"
#include "results/read_lines.hpp"
#include "takes/counting.hpp"

namespace windway {
namespace {

constexpr std::size_t most_told = 5;
constexpr auto no_result = "is not a result of windway batch; it is left out";
constexpr auto cut_off = "is cut off, as by an interrupted batch; it is left out: run the batch again with --resume";

[[noreturn]] void cannot_read(const std::string& path, int error_number) {
  throw Error(ErrorKind::recording, "cannot read " + path + ": " + std::generic_category().message(error_number));
}

/// A device that gives bytes. A terminal has an end: somebody types it.
bool is_endless(int descriptor) {
  struct stat status {};
  char byte = 0;
  return fstat(descriptor, &status) == 0 && S_ISCHR(status.st_mode) && isatty(descriptor) != 1 &&
         ::read(descriptor, &byte, 1) == 1;
}

struct CloseFile {
  void operator()(std::FILE* file) const { std::fclose(file); }
};

/// Closed at its end, but for standard input.
class Opened {
 public:
  explicit Opened(const std::string& path)
      : is_own_(path != "-"), descriptor_(is_own_ ? open(path.c_str(), O_RDONLY | O_CLOEXEC) : STDIN_FILENO) {
    if (descriptor_ < 0) cannot_read(path, errno);
    if (!is_endless(descriptor_)) return;
    if (is_own_) close(descriptor_);
    throw Error(ErrorKind::recording, "cannot read " + path + ": it is a device; name a file of results");
  }
  ~Opened() {
    if (is_own_) close(descriptor_);
  }
  Opened(const Opened&) = delete;
  Opened& operator=(const Opened&) = delete;
  int descriptor() const { return descriptor_; }

 private:
  bool is_own_;
  int descriptor_;
};

/// A file of results that can be read more than once: what cannot, a pipe, is copied to an unnamed file.
class SavedFile {
 public:
  explicit SavedFile(std::string path) : path_(std::move(path)) {
    const Opened file(path_);
    start_ = lseek(file.descriptor(), 0, SEEK_CUR);
    if (start_ < 0) copy_from(file.descriptor());
  }

  const std::string& path() const { return path_; }

  /// Calls `see` with each whole line; gives what is left of one that was cut short.
  std::string read(const std::function<void(std::string_view)>& see) const {
    if (copy_) return read_from(fileno(copy_.get()), see);
    const Opened file(path_);
    return read_from(file.descriptor(), see);
  }

 private:
  std::string read_from(int descriptor, const std::function<void(std::string_view)>& see) const {
    if (lseek(descriptor, std::max<off_t>(start_, 0), SEEK_SET) < 0) cannot_read(path_, errno);
    try {
      return read_lines(descriptor, see);
    } catch (const std::system_error& failure) {
      cannot_read(path_, failure.code().value());
    }
  }

  void copy_from(int descriptor) {
    copy_.reset(std::tmpfile());
    if (!copy_) cannot_read(path_, errno);
    std::string block(std::size_t{1} << 18U, '\0');
    for (ssize_t got = 0; (got = ::read(descriptor, block.data(), block.size())) != 0;) {
      if (got < 0 && errno == EINTR) continue;
      if (got < 0) cannot_read(path_, errno);
      const std::string_view part(block.data(), static_cast<std::size_t>(got));
      if (const int failure = write_all(fileno(copy_.get()), part)) cannot_read(path_, failure);
    }
  }

  std::string path_;
  off_t start_ = 0;  ///< where standard input stood
  std::unique_ptr<std::FILE, CloseFile> copy_;
};

using SavedFiles = std::vector<SavedFile>;

/// By result, of all files: how it counts. What is no result is alone.
std::vector<Counting> countings_of(const SavedFiles& files) {
  std::vector<TakeOrder> orders;
  EntryReader reader;
  for (const SavedFile& file : files)
    file.read([&](std::string_view line) {
      for (const std::string_view result : joined_results(line))
        orders.push_back(reader.order(result).value_or(TakeOrder{}));
    });
  return countings(orders);
}

[[noreturn]] void has_changed(const SavedFile& file) {
  throw Error(ErrorKind::recording, file.path() + " changed while it was read; run this again");
}

/// Warns of lines that are no results: of the first few each.
class BadLines {
 public:
  explicit BadLines(const std::function<void(const std::string&)>& warn) : warn_(warn) {}
  void tell(const std::string& path, std::size_t number, const char* what) {
    if (++count_ <= most_told) warn_(path + ", line " + std::to_string(number) + ": " + what);
  }
  std::size_t finish() const {
    if (count_ > most_told) warn_("and " + std::to_string(count_ - most_told) + " more such lines");
    return count_;
  }

 private:
  const std::function<void(const std::string&)>& warn_;
  std::size_t count_ = 0;
};

}  // namespace

struct SavedLines::State {
  SavedFiles files;
  std::vector<Counting> countings;  ///< by result, of all files
};

SavedLines::SavedLines(const std::vector<std::string>& paths) : state_(std::make_unique<State>()) {
  for (const std::string& path : paths) state_->files.emplace_back(path);
  state_->countings = countings_of(state_->files);
}

SavedLines::~SavedLines() = default;

std::size_t SavedLines::read(const std::function<void(const BenchEntry&, std::string_view)>& see,
                             const std::function<void(const std::string&)>& warn) const {
  const std::vector<Counting>& all = state_->countings;
  std::size_t place = 0;
  EntryReader reader;
  BadLines bad(warn);
  for (const SavedFile& file : state_->files) {
    std::size_t number = 0;
    const auto see_result = [&](std::string_view result, bool is_cut_off) {
      if (place == all.size()) has_changed(file);
      Counting counting = all[place++];
      auto entry = reader.read(result);
      if (!entry) return bad.tell(file.path(), number, is_cut_off ? cut_off : no_result);
      counting.keeper = entry->counting.keeper;
      counting.group_by = entry->counting.group_by;
      const bool is_as_written = std::exchange(entry->counting, counting) == counting;
      is_as_written ? see(*entry, result) : see(*entry, with_counting(std::string(result), counting));
    };
    const std::string part = file.read([&](std::string_view line) {
      ++number;
      const auto results = joined_results(line);
      for (const std::string_view result : results) see_result(result, result.data() != results.back().data());
    });
    if (!part.empty()) bad.tell(file.path(), number + 1, cut_off);
  }
  if (place != all.size()) has_changed(state_->files.back());
  return bad.finish();
}

}  // namespace windway
