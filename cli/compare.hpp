// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "command.hpp"

namespace windway::cli {

/// Declares the options of `windway compare`; the action compares two takes.
Action declare_compare(CLI::App& command);

}  // namespace windway::cli
