// SPDX-License-Identifier: GPL-3.0-or-later
#include "faults/small_disk.hpp"

#include <fcntl.h>
#include <sched.h>
#include <sys/mount.h>
#include <unistd.h>

#include <cerrno>
#include <system_error>

namespace windway::cli_tests {
namespace {

constexpr auto filler = "filler";
constexpr auto options = "size=1m";
constexpr std::size_t page_bytes = 4096;

std::string failure(const std::string& what) { return what + ": " + std::generic_category().message(errno); }

/// Whoever is not root becomes the root of a namespace of its own.
void map_user(uid_t user, gid_t group) {
  write_file("/proc/self/setgroups", "deny");
  write_file("/proc/self/uid_map", "0 " + std::to_string(user) + " 1");
  write_file("/proc/self/gid_map", "0 " + std::to_string(group) + " 1");
}

std::string entered_own_namespace() {
  const uid_t user = getuid();
  const gid_t group = getgid();
  if (unshare(CLONE_NEWNS) != 0) {
    if (unshare(CLONE_NEWUSER | CLONE_NEWNS) != 0) return failure("no mounts of one's own here (unshare)");
    map_user(user, group);
  }
  if (mount("none", "/", nullptr, MS_REC | MS_PRIVATE, nullptr) != 0) return failure("no mounts of one's own here");
  const ScratchFolder place;
  if (mount("none", place.path().c_str(), "tmpfs", 0, options) != 0) return failure("no tmpfs can be mounted here");
  umount(place.path().c_str());
  return "";
}

}  // namespace

std::string SmallDisk::why_none() {
  static const std::string why = entered_own_namespace();
  return why;
}

SmallDisk::SmallDisk() {
  if (mount("none", path().c_str(), "tmpfs", 0, options) != 0)
    throw std::system_error(errno, std::generic_category(), "mount");
}

SmallDisk::~SmallDisk() { umount2(path().c_str(), MNT_DETACH); }

std::vector<std::string> SmallDisk::contents() const {
  std::vector<std::string> names = folder_.contents();
  std::erase(names, filler);
  return names;
}

void SmallDisk::fill(std::size_t free_pages) {
  const int descriptor = open(path(filler).c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0600);
  const std::string page(page_bytes, 'x');
  off_t filled = 0;
  while (write(descriptor, page.data(), page.size()) == static_cast<ssize_t>(page.size())) filled += page_bytes;
  const int stopped_by = errno;
  const bool is_freed = ftruncate(descriptor, filled - static_cast<off_t>(free_pages * page_bytes)) == 0;
  close(descriptor);
  if (stopped_by != ENOSPC || !is_freed) throw std::system_error(stopped_by, std::generic_category(), "filling");
}

void SmallDisk::make_read_only() { mount_again(MS_RDONLY); }
void SmallDisk::make_writable() { mount_again(0); }

void SmallDisk::mount_again(unsigned long flags) const {
  if (mount("none", path().c_str(), "tmpfs", MS_REMOUNT | flags, options) != 0)
    throw std::system_error(errno, std::generic_category(), "mount");
}

}  // namespace windway::cli_tests
