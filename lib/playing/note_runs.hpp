// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <vector>

#include "playing/melody.hpp"

namespace windway {

/// A note that the melody plays, and where it lies.
struct MelodyPitch {
  int midi = 0;
  double cents = 0;  ///< above 440 Hz, as heard so far
};

/// One time that a note sounds.
struct NoteRun {
  std::size_t pitch = 0;  ///< index of the note
  std::size_t first = 0;
  std::size_t last = 0;             ///< included
  std::size_t sounding = 0;         ///< frames in which the note itself sounds: no ornament, no echo
  std::vector<std::size_t> steady;  ///< frames that neither attack, release, a slur nor an ornament touches
};

/// Which note sounds when: the path through the notes that suits the frames best (rule of Viterbi; A. J. Viterbi, IEEE
/// Trans. Inf. Theory 13 (1967) 260), each change of note at a price. Runs under 70 ms are ornaments, and none; a note
/// goes on over a cut or a tap. In order of time. Cost: frames times notes.
std::vector<NoteRun> find_note_runs(const Melody& melody, const std::vector<MelodyPitch>& pitches);

}  // namespace windway
