// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <exception>
#include <new>
#include <string>

namespace windway {

/// Why something failed, in words. Memory that ran out says nothing of its own.
inline std::string reason_of(const std::exception& failure) {
  const bool is_of_memory = dynamic_cast<const std::bad_alloc*>(&failure) != nullptr;
  return is_of_memory
             ? "there is not enough memory; close other programs, take fewer --jobs, or cut a long recording into parts"
             : failure.what();
}

}  // namespace windway
