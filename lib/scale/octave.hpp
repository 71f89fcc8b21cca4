// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "instrument/instrument.hpp"

namespace windway {

/// Octaves by which the recording contradicts the instrument's lowest note: + it sounds higher, 0 it agrees, or too
/// little was played to tell. `pitches` are fractional MIDI keys, in any order.
int octaves_off(const Instrument& told, const std::vector<double>& pitches);

/// Throws Error (kind usage) in words where the recording contradicts the octave told.
void check_octave(const Instrument& told, const std::vector<double>& pitches);

}  // namespace windway
