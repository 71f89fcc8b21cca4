// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "holds/headroom.hpp"
#include "warning.hpp"

namespace windway {

/// What is doubtful about a take by its holds: what sounds between them is nearly as loud (loud_background), a voice
/// filter turns the tone down while it sounds on (voice_filter). `take` is its name in the sentences.
Warnings hold_warnings(const std::string& take, const PowerCurve& power, const std::vector<Hold>& holds);

}  // namespace windway
