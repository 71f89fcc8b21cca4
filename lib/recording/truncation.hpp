// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>

#include "recording/input_file.hpp"

namespace windway {

/// How much of a cut file is left: the share of its sound data, as its header counts it, that is there; below 1
/// where a WAV, RF64, W64 or AIFF file ends before its header says. libsndfile corrects such headers silently.
/// Empty for other formats, for whole files, and for the placeholder lengths that are written into a pipe.
std::optional<double> share_present(const InputFile& file);

}  // namespace windway
