// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <sys/types.h>

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace windway::cli_tests {

/// How a run of a program ended.
struct ProgramRun {
  int exit_status = 0;  ///< of a program ended by a signal: 1000 + the signal's number
  std::string out;
  std::string err;      ///< each message as one line, as if the screen were wide
  std::string raw_err;  ///< as it stands there, within 80 columns
};

/// What stands at the program's three streams, where it is not a pipe to the test.
struct Streams {
  std::string in_path = "/dev/null";
  std::string out_path{};            ///< empty: a pipe, read to its end
  bool out_reader_has_gone = false;  ///< a pipe whose other end is closed already
  std::vector<int> closed{};         ///< of the descriptors 0, 1 and 2, those that the program starts without
};

/// What the program may use at most (setrlimit(2)).
struct Limits {
  std::optional<std::uint64_t> file_bytes{};    ///< of a file that it writes; it gets SIGXFSZ there
  std::optional<std::uint64_t> memory_bytes{};  ///< of address space
  std::optional<std::uint64_t> descriptors{};   ///< one more than the highest
};

/// Path of the program under test: WINDWAY_TEST_PROGRAM of the environment, else the one of this build.
std::string windway_program();

/// Runs a program through fork and exec, no shell between: words[0] is its path, or its name on the PATH, the rest its
/// arguments. Exit status 127: there is no such program.
ProgramRun run_program(const std::vector<std::string>& words, const Streams& streams = {}, const Limits& limits = {});

/// Runs windway with these arguments.
ProgramRun run_windway(const std::vector<std::string>& arguments, const Streams& streams = {},
                       const Limits& limits = {});

/// windway at work, its standard input a pipe that is open and silent.
class WaitingProgram {
 public:
  /// What it says on standard error goes to the file `err_path`, which must be there.
  explicit WaitingProgram(const std::vector<std::string>& arguments, const std::string& err_path = "/dev/null");
  void send(int signal_number) const;
  bool has_ended() const;
  /// Waits for its end; as ProgramRun::exit_status.
  int exit_status() const;

 private:
  pid_t pid_ = -1;
  int in_descriptor_ = -1;
};

/// A folder of the test's own, removed with all that is in it.
class ScratchFolder {
 public:
  ScratchFolder();
  ~ScratchFolder();
  ScratchFolder(const ScratchFolder&) = delete;
  ScratchFolder& operator=(const ScratchFolder&) = delete;

  std::string path() const { return path_; }
  std::string path(const std::string& name) const { return path_ + "/" + name; }
  /// Names of all that is in it, in order.
  std::vector<std::string> contents() const;

 private:
  std::string path_;
};

/// A text's sentences, each on one line: what is indented by two blanks goes on from the line before.
std::string unbroken(const std::string& text);

std::string read_file(const std::string& path);
void write_file(const std::string& path, const std::string& bytes);

}  // namespace windway::cli_tests
