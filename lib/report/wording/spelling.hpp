// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

#include "measurement.hpp"

namespace windway {

/// A note's name for people (text, CSV): as the instrument's key spells it, in the names the player asked for.
std::string spelt_for_people(int midi, const Measurement& measurement);
/// With the name of a further fingering: "D6 vented".
std::string spelt_for_people(const NoteId& note, const Measurement& measurement);

/// A note's name for programs (JSON): sharps only, English letters, so that a name depends on nothing but its `midi`.
std::string spelt_for_programs(int midi);
/// The MIDI key that such a name says. Throws Error where it is none.
int midi_spelt_for_programs(const std::string& name);

/// A pitch class (0 = C ... 11 = B) for programs: "F#".
std::string pitch_class_for_programs(int pitch_class);

}  // namespace windway
