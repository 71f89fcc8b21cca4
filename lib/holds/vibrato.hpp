// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

namespace windway {

/// Rate of a vibrato in a series of frames: of the breath in its level, or of the pitch. Empty where most of the
/// movement is something else, where it is less deep than `least_depth` (in the series' unit), or where fewer than one
/// and a half periods of the slowest lie in it.
std::optional<double> vibrato_hz(const std::vector<double>& values, double hop_s, double least_depth);

/// The series as a straight line and a sine of this rate, by least squares over the frames `first` to `last`, extended
/// over all of it.
std::vector<double> fitted_vibrato(const std::vector<double>& values, double hop_s, double rate_hz, std::size_t first,
                                   std::size_t last);

}  // namespace windway
