// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>

#include "measurement.hpp"

namespace windway {

/// Where one take was played once through, and all notes from one on lie apart from those before it: either the head
/// moved there, or the flute is so (code scale_in_two).
std::optional<Warning> scale_in_two(const Measurement& found);

}  // namespace windway
