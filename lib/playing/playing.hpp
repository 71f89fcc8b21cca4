// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "measurement.hpp"
#include "playing/played_notes.hpp"

namespace windway {

/// How the notes of one register came out, each counting by the time it sounds.
struct PlayedRegister {
  int register_number = 1;
  double sounded_s = 0;
  CentsEstimate deviation;                 ///< from the targets
  std::optional<CentsEstimate> from_take;  ///< from the moderate pitch in the scale take, of the notes that are in both
};

/// The scale as it comes out in real playing.
struct Playing {
  TakeInfo take;
  MeasureSettings settings;  ///< as used
  Instrument instrument;
  bool inferred = false;  ///< kind or lowest note came from the recording
  bool has_scale_take = false;
  double sounded_s = 0;
  std::vector<PlayedPitch> notes;         ///< ascending
  std::vector<PlayedRegister> registers;  ///< ascending; of notes of the scale
  /// The further move that answers the playing: each note counts by its time, its reach as in the scale take. Its
  /// `notes` are those of `notes` that are in the scale, in the same order.
  std::optional<Compromise> further;
  Warnings warnings;
};

/// Measures a recorded melody: notes of 80 ms and up, ornamented, slurred, with vibrato. `scale_take`: the notes of an
/// earlier measurement of the same flute; empty: none. Throws Error (kind recording) where no melody is in it: silence,
/// noise, talk. Memory: eight bytes a frame of 10 ms.
Playing measure_playing(const std::string& path, const MeasureSettings& settings,
                        const std::vector<NoteBreath>& scale_take);

/// What each note of the scale counts for by the share of time it sounds; at least one of them more than nothing.
std::vector<NoteWeight> weights_from(const Playing& playing);

}  // namespace windway
