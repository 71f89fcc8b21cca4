// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "command.hpp"

namespace windway::cli {

/// `windway sheet`: the printed page for the buyer of an instrument, or one for each instrument of a bench.
Action declare_sheet(CLI::App& command);

}  // namespace windway::cli
