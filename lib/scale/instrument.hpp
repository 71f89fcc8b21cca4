// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "scale/note.hpp"

namespace windway {

enum class Kind { whistle, recorder };

/// One note that the instrument's fingering gives.
struct ScaleNote {
  int midi = 0;
  int register_number = 1;  ///< 1st, 2nd, 3rd register: which mode of the bore sounds
  double weight = 1.0;      ///< in the compromise
};

struct Instrument {
  std::optional<std::string> name;
  Kind kind = Kind::whistle;
  int lowest_midi = 0;
  std::vector<ScaleNote> scale;     ///< ascending
  std::optional<double> travel_mm;  ///< how far the head can be drawn out of its fully-in place
  bool head_moves = true;
  NoteNames note_names = NoteNames::english;  ///< how sentences about it spell its notes
};

/// The built-in instrument of a kind on a lowest note. A whistle: the major scale and the flat seventh over two
/// octaves and a second; a recorder: chromatic over two octaves and a tone. Registers from memory (no source):
/// whistle 2nd from the octave up; recorder 1st to 14 semitones above the lowest note, 2nd to 21, 3rd beyond.
Instrument builtin_instrument(Kind kind, int lowest_midi);

/// The key note that an instrument's notes are spelt by, its lowest: 0 = C ... 11 = B.
int key_pitch_class(const Instrument& instrument);

/// A note's name as sentences about the instrument spell it.
std::string spelt(int midi, const Instrument& instrument);

/// The same instrument, its notes spelt so.
Instrument spelling_as(NoteNames note_names, Instrument instrument);

/// Register of a note `semitones` above the lowest by the rule above.
int register_of(Kind kind, int semitones_above_lowest);

std::string kind_name(Kind kind);

}  // namespace windway
