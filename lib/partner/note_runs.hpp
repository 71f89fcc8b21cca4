// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <vector>

#include "partner/chord.hpp"

namespace windway {

/// A note followed from one spectrum to the next.
struct LinkedNote {
  std::vector<std::size_t> frames;  ///< ascending; a few may be missing between
  std::vector<HeardNote> notes;     ///< of each of them
};

/// Links the notes of spectra that follow each other: the same pitch within 40 cents goes on, over a gap of two
/// spectra at most.
std::vector<LinkedNote> linked_notes(const std::vector<std::vector<HeardNote>>& chords);

/// A run cut where the note is struck again: its partials rise together by 6 dB within five spectra, and not again
/// within the `beat_frames` before or after, as it does where two reeds beat.
std::vector<LinkedNote> cut_at_strikes(const LinkedNote& run, std::size_t beat_frames);

}  // namespace windway
