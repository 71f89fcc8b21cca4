// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <gtest/gtest.h>

#include <cstdlib>
#include <string_view>

namespace windway::external_tests {

/// Whether a check that cannot run is a failure: WINDWAY_REQUIRE_EXTERNAL=1 in the environment, as .ci/run sets it.
inline bool all_checks_required() {
  const char* value = std::getenv("WINDWAY_REQUIRE_EXTERNAL");
  return value != nullptr && std::string_view(value) == "1";
}

}  // namespace windway::external_tests

/// Leaves the test, skipped or failed, where the outside program or library `what` is not there. A macro, because only
/// the test's own function can leave the test.
#define WINDWAY_NEEDS(there, what)                                                                     \
  if (!(there)) {                                                                                      \
    constexpr const char* remedy = " is missing; scripts/setup --tests installs it, then build again"; \
    if (windway::external_tests::all_checks_required()) FAIL() << (what) << remedy;                    \
    GTEST_SKIP() << (what) << remedy;                                                                  \
  }                                                                                                    \
  static_assert(true)
