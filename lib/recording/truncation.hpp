// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>

#include "input/input_file.hpp"

namespace windway {

/// A file whose end is missing.
struct CutOff {
  std::optional<double> share_present;  ///< of the sound that its header announces, below 1; empty: none says how long
};

/// Empty for whole files. Told of WAV, RF64, W64, AIFF, CAF and AU, whose headers give a length (libsndfile corrects it
/// silently; lengths that are written into a pipe are no claim), and of Ogg, whose last page says that it is the last.
std::optional<CutOff> cut_off(const InputFile& file);

}  // namespace windway
