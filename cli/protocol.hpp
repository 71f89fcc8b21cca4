// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "command.hpp"

namespace windway::cli {

/// Declares the options of `windway protocol`; the action writes what to play.
Action declare_protocol(CLI::App& command);

}  // namespace windway::cli
