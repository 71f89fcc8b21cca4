// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "command.hpp"

namespace windway::cli {

/// Declares the options of `windway batch`; the action measures, judges and reports on many takes.
Action declare_batch(CLI::App& command);

}  // namespace windway::cli
