// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "command.hpp"

namespace windway::cli {

/// Declares the options of `windway check`; the action says whether the head is set.
Action declare_check(CLI::App& command);

}  // namespace windway::cli
