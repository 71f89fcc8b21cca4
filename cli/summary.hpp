// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "command.hpp"

namespace windway::cli {

/// Declares the options of `windway summary`; the action merges saved results and writes the report.
Action declare_summary(CLI::App& command);

}  // namespace windway::cli
