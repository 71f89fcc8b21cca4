// SPDX-License-Identifier: GPL-3.0-or-later
#include "results/saved_lines.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <system_error>

#include "error.hpp"
#include "report/bench/read_entry.hpp"
#include "results/read_lines.hpp"

namespace windway {
namespace {

constexpr std::size_t most_told = 5;

class OpenFile {
 public:
  explicit OpenFile(const std::string& path)
      : is_own_(path != "-"), descriptor_(is_own_ ? open(path.c_str(), O_RDONLY | O_CLOEXEC) : STDIN_FILENO) {
    if (descriptor_ < 0)
      throw Error(ErrorKind::recording, "cannot read " + path + ": " + std::generic_category().message(errno));
  }
  ~OpenFile() {
    if (is_own_) close(descriptor_);
  }
  OpenFile(const OpenFile&) = delete;
  OpenFile& operator=(const OpenFile&) = delete;
  int descriptor() const { return descriptor_; }

 private:
  bool is_own_;
  int descriptor_;
};

}  // namespace

std::size_t read_saved_lines(const std::vector<std::string>& files,
                             const std::function<void(const BenchEntry&, std::string_view)>& see,
                             const std::function<void(const std::string&)>& warn) {
  EntryReader reader;
  std::size_t bad = 0;
  for (const std::string& path : files) {
    const OpenFile file(path);
    std::size_t number = 0;
    const auto tell = [&](const char* what) {
      if (++bad <= most_told) warn(path + ", line " + std::to_string(number) + ": " + what);
    };
    try {
      const std::string part = read_lines(file.descriptor(), [&](std::string_view line) {
        ++number;
        const auto entry = reader.read(line);
        entry ? see(*entry, line) : tell("is no result of windway batch; it is left out");
      });
      ++number;
      if (!part.empty())
        tell("is not whole, as if its writing had been interrupted; it is left out: run the batch again with --resume");
    } catch (const std::system_error& failure) {
      throw Error(ErrorKind::recording, "cannot read " + path + ": " + failure.code().message());
    }
  }
  if (bad > most_told) warn("and " + std::to_string(bad - most_told) + " such lines more");
  return bad;
}

}  // namespace windway
