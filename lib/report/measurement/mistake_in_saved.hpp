// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

#include "measurement.hpp"

namespace windway {

/// Why a result that was changed by hand, or by another program, cannot be used; empty where it can.
std::string mistake_in(const Measurement& measurement);

}  // namespace windway
