// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "command.hpp"

namespace windway::cli {

/// Declares the options of `windway card`; the action writes where the head belongs at other A4 and temperatures.
Action declare_card(CLI::App& command);

}  // namespace windway::cli
