// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>

#include "measurement.hpp"

namespace windway {

/// A note's name for people (text, CSV): as the instrument's key spells it, in the names the player asked for.
std::string spelt_for_people(int midi, const Measurement& measurement);
/// With the name of a further fingering: "D6 vented".
std::string spelt_for_people(const NoteId& note, const Measurement& measurement);

/// A note's name for programs (JSON): sharps only, English letters, so that a name depends on nothing but its `midi`.
std::string spelt_for_programs(int midi);

/// A pitch class (0 = C ... 11 = B) for programs: "F#".
std::string pitch_class_for_programs(int pitch_class);

/// The name of a further fingering for programs; absent for the usual one.
std::optional<std::string> further_fingering(const NoteId& note);

/// The members of a JSON object that say which note it is about. `Json`: nlohmann::ordered_json.
template <typename Json>
Json which_note(const NoteId& note) {
  const auto fingering = further_fingering(note);
  return {{"note", spelt_for_programs(note.midi)},
          {"midi", note.midi},
          {"fingering", fingering ? Json(*fingering) : Json(nullptr)}};
}

}  // namespace windway
