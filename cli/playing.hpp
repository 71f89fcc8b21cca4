// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "command.hpp"

namespace windway::cli {

/// Declares the options of `windway playing`; the action measures the melody and writes the report.
Action declare_playing(CLI::App& command);

}  // namespace windway::cli
