// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "command.hpp"

namespace windway::cli {

/// Declares the options of `windway measure`; the action measures and writes the report.
Action declare_measure(CLI::App& command);

}  // namespace windway::cli
