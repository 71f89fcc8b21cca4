// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>

#include "measurement.hpp"

namespace windway {

/// Both answers and the question which flute it is, where they differ by more than their u95 and what a hand can set
/// (code instrument_ambiguous). `rival`: the same holds as of the other instrument that explains them about as well.
std::optional<Warning> rival_warning(const Measurement& found, const Measurement& rival);

}  // namespace windway
