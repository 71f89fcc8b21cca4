// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>

#include "input/input_file.hpp"

namespace windway {

/// The share of the sound data in the header of a WAV, RF64, W64 or AIFF file that the file still has, below 1 where it
/// was cut off. libsndfile corrects such headers silently. Empty for other formats, for whole files, and for the
/// placeholder lengths that are written into a pipe.
std::optional<double> share_present(const InputFile& file);

}  // namespace windway
