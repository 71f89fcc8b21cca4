// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <functional>
#include <string>

namespace windway::cli_tests {

/// A folder in that of the build, filled by `make` once for all tests of this program: nobody else writes in it. Each
/// test is a process of its own, and several run at once: whoever is first makes it, in a folder of its own that then
/// takes the name. A newly built test program makes a new one; each test program has its own.
std::string made_once(const std::string& name, const std::function<void(const std::string& folder)>& make);

}  // namespace windway::cli_tests
