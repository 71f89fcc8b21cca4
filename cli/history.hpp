// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "command.hpp"

namespace windway::cli {

/// Declares the options of `windway history`; the action reports on all takes of one instrument.
Action declare_history(CLI::App& command);

}  // namespace windway::cli
