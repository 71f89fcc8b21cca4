// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/run_program.hpp"

#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <stdexcept>
#include <system_error>
#include <utility>

namespace windway::cli_tests {
namespace {

int checked(int result) {
  if (result < 0) throw std::system_error(errno, std::generic_category());
  return result;
}

struct Pipe {
  Pipe() {
    std::array<int, 2> ends{};
    checked(pipe2(ends.data(), O_CLOEXEC));
    read_end = ends[0];
    write_end = ends[1];
  }
  int read_end = -1;
  int write_end = -1;
};

std::vector<std::string> windway_words(const std::vector<std::string>& arguments) {
  std::vector<std::string> words{windway_program()};
  words.insert(words.end(), arguments.begin(), arguments.end());
  return words;
}

void keep_to(int resource, const std::optional<std::uint64_t>& most) {
  if (!most) return;
  const rlimit limit{*most, *most};
  if (setrlimit(static_cast<__rlimit_resource>(resource), &limit) != 0) _exit(126);
}

/// What a new process does to itself before it becomes the program.
struct Preparation {
  Limits limits{};
  std::vector<int> closed{};
};

/// Starts the program with its streams at these descriptors.
pid_t start(std::vector<std::string> words, int in, int out, int err, const Preparation& preparation = {}) {
  std::vector<char*> argv;
  for (std::string& word : words) argv.push_back(word.data());
  argv.push_back(nullptr);
  const pid_t pid = checked(fork());
  if (pid > 0) return pid;
  signal(SIGINT, SIG_DFL);  // where the tests run in a shell's background it is ignored
  dup2(in, STDIN_FILENO);
  dup2(out, STDOUT_FILENO);
  dup2(err, STDERR_FILENO);
  for (const int descriptor : preparation.closed) close(descriptor);
  keep_to(RLIMIT_FSIZE, preparation.limits.file_bytes);
  keep_to(RLIMIT_NOFILE, preparation.limits.descriptors);
  keep_to(RLIMIT_AS, preparation.limits.memory_bytes);
  execvp(argv[0], argv.data());
  _exit(127);
}

int status_at_end(pid_t pid) {
  int status = 0;
  while (waitpid(pid, &status, 0) < 0) {
    if (errno != EINTR) throw std::system_error(errno, std::generic_category());
  }
  return WIFEXITED(status) ? WEXITSTATUS(status) : 1000 + WTERMSIG(status);
}

/// Reads what is ready; gives false at the end.
bool read_some(int descriptor, std::string& text) {
  std::array<char, 65536> block{};
  const ssize_t count = read(descriptor, block.data(), block.size());
  if (count > 0) text.append(block.data(), static_cast<std::size_t>(count));
  return count > 0 || (count < 0 && errno == EINTR);
}

/// Reads both to their ends, whichever speaks first; neither pipe can fill up and block the program.
void read_both(int out, std::string& out_text, int err, std::string& err_text) {
  std::array<pollfd, 2> ends{{{out, POLLIN, 0}, {err, POLLIN, 0}}};
  const std::array<std::string*, 2> texts{&out_text, &err_text};
  while (ends[0].fd >= 0 || ends[1].fd >= 0) {
    if (poll(ends.data(), ends.size(), -1) < 0 && errno != EINTR) return;
    for (std::size_t end = 0; end < ends.size(); ++end) {
      if (ends[end].fd >= 0 && ends[end].revents != 0 && !read_some(ends[end].fd, *texts[end])) ends[end].fd = -1;
    }
  }
}

}  // namespace

std::string windway_program() {
  const char* const other = std::getenv("WINDWAY_TEST_PROGRAM");
  return other != nullptr ? other : WINDWAY_PROGRAM;
}

ProgramRun run_program(const std::vector<std::string>& words, const Streams& streams, const Limits& limits) {
  Pipe out;
  Pipe err;
  const int in = checked(open(streams.in_path.c_str(), O_RDONLY | O_CLOEXEC));
  if (streams.out_reader_has_gone) close(std::exchange(out.read_end, -1));
  const int out_place =
      streams.out_path.empty() ? out.write_end : checked(open(streams.out_path.c_str(), O_WRONLY | O_CLOEXEC));
  const pid_t pid = start(words, in, out_place, err.write_end, {limits, streams.closed});
  for (const int descriptor : {in, out.write_end, err.write_end}) close(descriptor);
  if (out_place != out.write_end) close(out_place);
  ProgramRun run;
  read_both(out.read_end, run.out, err.read_end, run.raw_err);
  run.err = unbroken(run.raw_err);
  if (out.read_end >= 0) close(out.read_end);
  close(err.read_end);
  run.exit_status = status_at_end(pid);
  return run;
}

ProgramRun run_windway(const std::vector<std::string>& arguments, const Streams& streams, const Limits& limits) {
  return run_program(windway_words(arguments), streams, limits);
}

WaitingProgram::WaitingProgram(const std::vector<std::string>& arguments, const std::string& err_path) {
  Pipe in;
  const int nothing = checked(open("/dev/null", O_RDWR | O_CLOEXEC));
  const int err = checked(open(err_path.c_str(), O_WRONLY | O_CLOEXEC));
  pid_ = start(windway_words(arguments), in.read_end, nothing, err);
  for (const int descriptor : {in.read_end, nothing, err}) close(descriptor);
  in_descriptor_ = in.write_end;
}

void WaitingProgram::send(int signal_number) const { checked(kill(pid_, signal_number)); }

bool WaitingProgram::has_ended() const {
  siginfo_t info{};
  checked(waitid(P_PID, static_cast<id_t>(pid_), &info, WEXITED | WNOHANG | WNOWAIT));
  return info.si_pid == pid_;
}

int WaitingProgram::exit_status() const {
  const int status = status_at_end(pid_);
  close(in_descriptor_);
  return status;
}

ScratchFolder::ScratchFolder() {
  std::string name = (std::filesystem::temp_directory_path() / "windway-test-XXXXXX").string();
  if (mkdtemp(name.data()) == nullptr) throw std::system_error(errno, std::generic_category());
  path_ = name;
}

ScratchFolder::~ScratchFolder() {
  std::error_code failure;
  std::filesystem::remove_all(path_, failure);
}

std::vector<std::string> ScratchFolder::contents() const {
  std::vector<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator(path_))
    names.push_back(entry.path().filename().string());
  std::sort(names.begin(), names.end());
  return names;
}

std::string unbroken(const std::string& text) {
  std::string joined = text;
  for (auto at = joined.find("\n  "); at != std::string::npos; at = joined.find("\n  ", at)) joined.replace(at, 3, " ");
  return joined;
}

std::string read_file(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

void write_file(const std::string& path, const std::string& bytes) {
  std::ofstream file(path, std::ios::binary);
  file << bytes;
  if (!file.flush()) throw std::runtime_error("cannot write " + path);
}

}  // namespace windway::cli_tests
