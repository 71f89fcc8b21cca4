// SPDX-License-Identifier: GPL-3.0-or-later
#include "input/child_process.hpp"

#include <fcntl.h>
#include <poll.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <atomic>
#include <cerrno>
#include <csignal>
#include <system_error>
#include <utility>

namespace windway {
namespace {

constexpr int first_free_descriptor = 3;  // after the three streams

/// Programs at work, 0: a free place. If all places are taken, a program is not killed here; it
/// ends when it writes to the closed pipe.
std::array<std::atomic<pid_t>, 256> at_work{};
static_assert(std::atomic<pid_t>::is_always_lock_free, "a signal handler may not wait");

std::optional<std::size_t> remember(pid_t pid) {
  for (std::size_t place = 0; place < at_work.size(); ++place) {
    pid_t nobody = 0;
    if (at_work[place].compare_exchange_strong(nobody, pid)) return place;
  }
  return std::nullopt;
}

void require(int error_number, const char* what) {
  if (error_number != 0) throw std::system_error(error_number, std::generic_category(), what);
}

void close_if_open(int& descriptor) {
  if (descriptor >= 0) close(std::exchange(descriptor, -1));
}

/// Moves a descriptor out of the way of the three streams, which are closed in some surroundings.
void move_above_streams(int& descriptor) {
  if (descriptor >= first_free_descriptor) return;
  const int moved = fcntl(descriptor, F_DUPFD_CLOEXEC, first_free_descriptor);
  require(moved < 0 ? errno : 0, "fcntl");
  close(std::exchange(descriptor, moved));
}

/// A pipe whose ends no other program inherits.
struct Pipe {
  Pipe() {
    std::array<int, 2> ends{};
    require(pipe2(ends.data(), O_CLOEXEC) == 0 ? 0 : errno, "pipe");
    read_end = ends[0];
    write_end = ends[1];
    move_above_streams(read_end);
    move_above_streams(write_end);
  }
  ~Pipe() {
    close_if_open(read_end);
    close_if_open(write_end);
  }
  Pipe(const Pipe&) = delete;
  Pipe& operator=(const Pipe&) = delete;
  int read_end = -1;
  int write_end = -1;
};

/// What is done in the new process before the program begins.
class SpawnPlan {
 public:
  SpawnPlan(int in, int out, int err) {
    require(posix_spawn_file_actions_init(&actions_), "posix_spawn");
    require(posix_spawnattr_init(&attributes_), "posix_spawn");
    require(posix_spawn_file_actions_adddup2(&actions_, in, STDIN_FILENO), "posix_spawn");
    require(posix_spawn_file_actions_adddup2(&actions_, out, STDOUT_FILENO), "posix_spawn");
    require(posix_spawn_file_actions_adddup2(&actions_, err, STDERR_FILENO), "posix_spawn");
    require(posix_spawn_file_actions_addclosefrom_np(&actions_, first_free_descriptor), "posix_spawn");
    sigset_t none, piped;
    sigemptyset(&none);
    sigemptyset(&piped);
    sigaddset(&piped, SIGPIPE);  // this program ignores it
    posix_spawnattr_setsigmask(&attributes_, &none);
    posix_spawnattr_setsigdefault(&attributes_, &piped);
    posix_spawnattr_setpgroup(&attributes_, 0);
    posix_spawnattr_setflags(&attributes_, POSIX_SPAWN_SETSIGMASK | POSIX_SPAWN_SETSIGDEF | POSIX_SPAWN_SETPGROUP);
  }
  ~SpawnPlan() {
    posix_spawn_file_actions_destroy(&actions_);
    posix_spawnattr_destroy(&attributes_);
  }
  SpawnPlan(const SpawnPlan&) = delete;
  SpawnPlan& operator=(const SpawnPlan&) = delete;

  /// 0, or why the program could not be started.
  int spawn(pid_t& pid, std::vector<std::string> words) const {
    std::vector<char*> argv;
    for (std::string& word : words) argv.push_back(word.data());
    argv.push_back(nullptr);
    return posix_spawnp(&pid, argv[0], &actions_, &attributes_, argv.data(), environ);
  }

 private:
  posix_spawn_file_actions_t actions_{};
  posix_spawnattr_t attributes_{};
};

/// Programs that are being started and are not among those at work yet.
std::atomic<int> starting = 0;

/// While one stands, this thread gets no signal that ends the program: another thread that gets it waits for the child
/// to be known.
class Start {
 public:
  Start() {
    sigset_t ending;
    sigemptyset(&ending);
    for (const int signal_number : {SIGINT, SIGTERM, SIGHUP}) sigaddset(&ending, signal_number);
    pthread_sigmask(SIG_BLOCK, &ending, &before_);
    ++starting;
  }
  ~Start() {
    --starting;
    pthread_sigmask(SIG_SETMASK, &before_, nullptr);
  }
  Start(const Start&) = delete;
  Start& operator=(const Start&) = delete;

 private:
  sigset_t before_{};
};

}  // namespace

void kill_children() noexcept {
  constexpr int longest_ms = 200;  // of starting a program
  for (int ms = 0; starting > 0 && ms < longest_ms; ++ms) {
    const timespec one_ms{0, 1000000};
    nanosleep(&one_ms, nullptr);
  }
  for (const std::atomic<pid_t>& child : at_work) {
    const pid_t pid = child;
    if (pid > 0) kill(pid, SIGKILL);
  }
}

std::unique_ptr<ChildProcess> ChildProcess::start(const std::vector<std::string>& words, int input_descriptor) {
  Pipe output;
  Pipe complaints;
  const SpawnPlan plan(input_descriptor, output.write_end, complaints.write_end);
  pid_t pid = 0;
  const Start until_it_is_known;
  const int failure = plan.spawn(pid, words);
  // A folder of PATH that may not be searched counts as one without the program.
  if (failure == ENOENT || failure == ENOTDIR || failure == EACCES) return nullptr;
  require(failure, words[0].c_str());
  return std::unique_ptr<ChildProcess>(
      new ChildProcess(pid, std::exchange(output.read_end, -1), std::exchange(complaints.read_end, -1)));
}

ChildProcess::ChildProcess(int pid, int output, int complaints)
    : pid_(pid), output_(output), complaints_(complaints), place_(remember(pid)) {}

ChildProcess::~ChildProcess() {
  close_if_open(output_);
  close_if_open(complaints_);
  if (exit_status_) return;
  kill(pid_, SIGKILL);
  reap();
}

std::size_t ChildProcess::read(std::span<unsigned char> bytes) {
  while (output_ >= 0) {
    std::array<pollfd, 2> ends{{{complaints_, POLLIN, 0}, {output_, POLLIN, 0}}};
    if (poll(ends.data(), ends.size(), -1) < 0) {
      require(errno == EINTR ? 0 : errno, "poll");
      continue;
    }
    if (ends[0].revents != 0) {  // all that was said before the output is read before it
      listen();
      continue;
    }
    if (ends[1].revents == 0) continue;
    const ssize_t got = ::read(output_, bytes.data(), bytes.size());
    if (got < 0 && errno == EINTR) continue;
    if (got > 0) return static_cast<std::size_t>(got);
    close_if_open(output_);
  }
  while (complaints_ >= 0) listen();
  if (!exit_status_) reap();
  return 0;
}

void ChildProcess::listen() {
  std::array<char, 4096> block{};
  const ssize_t got = ::read(complaints_, block.data(), block.size());
  if (got < 0 && errno == EINTR) return;
  if (got <= 0) return close_if_open(complaints_);
  said_.append(block.data(), std::min(static_cast<std::size_t>(got), most_said_bytes - said_.size()));
}

/// Waits for its end, forgets it, and then reaps it: its number may be another program's from then on.
void ChildProcess::reap() {
  siginfo_t ended{};
  while (waitid(P_PID, static_cast<id_t>(pid_), &ended, WEXITED | WNOWAIT) < 0 && errno == EINTR) {
  }
  if (place_) at_work[*place_] = 0;
  int status = 0;
  while (waitpid(pid_, &status, 0) < 0 && errno == EINTR) {
  }
  exit_status_ = WIFSIGNALED(status) ? 128 + WTERMSIG(status) : WEXITSTATUS(status);
}

}  // namespace windway
