// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <gtest/gtest.h>

#include <string>

#include "recording/recording.hpp"

namespace windway::test {

/// The message of the error that opening `path` ends in; "opened" where it does not.
inline std::string why_refused(const std::string& path) {
  try {
    const Recording recording(path);
  } catch (const Error& error) {
    EXPECT_EQ(error.kind(), ErrorKind::recording);
    return error.what();
  }
  return "opened";
}

}  // namespace windway::test
