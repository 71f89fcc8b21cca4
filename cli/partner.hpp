// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "command.hpp"

namespace windway::cli {

/// Declares the options of `windway partner`; the action finds the partner's pitch and writes the report.
Action declare_partner(CLI::App& command);

}  // namespace windway::cli
