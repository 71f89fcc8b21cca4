// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "command.hpp"

namespace windway::cli {

/// Declares the options of `windway drone`; the action writes the drone.
Action declare_drone(CLI::App& command);

}  // namespace windway::cli
