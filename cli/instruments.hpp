// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "command.hpp"

namespace windway::cli {

/// Declares the options of `windway instruments`; the action lists, shows, checks or writes instruments.
Action declare_instruments(CLI::App& command);

}  // namespace windway::cli
