// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <compare>
#include <optional>
#include <string>
#include <string_view>

namespace windway {

enum class NoteNames { english, german };  ///< german: H is B natural, B is B flat

/// Notes have MIDI keys: 0 to 127 (MIDI 1.0, from memory). The highest is a G at 12.5 kHz.
inline constexpr int midi_keys = 128;
constexpr bool is_midi_key(int midi) { return midi >= 0 && midi < midi_keys; }

/// One note of an instrument: two fingerings of one pitch are two notes. Ordered by pitch, the usual fingering first.
struct NoteId {
  int midi = 0;             ///< MIDI key number, A4 = 69
  std::string fingering{};  ///< name of a further fingering: "vented"; empty: the usual one

  auto operator<=>(const NoteId&) const = default;
};

/// A note as a player writes it; the octave may be left out.
struct WrittenNote {
  int pitch_class = 0;  ///< 0 = C ... 11 = B
  bool flat = false;    ///< spelt with a flat
  std::optional<int> octave;
};

/// Reads D, d, Bb, B♭, F#5, F♯5 (german names: H, B). Throws Error (kind usage) with the remedy: an H without german
/// names is asked about, never guessed.
WrittenNote parse_note(std::string_view text, NoteNames names);

/// MIDI key number, A4 = 69; the octave must be there.
int midi_of(const WrittenNote& note);

/// Letter, # or b, octave, as players spell it whose instrument is in the key `key_pitch_class`: notes of its major
/// scale and its flat seventh by the key signature (F: Bb; D: F#); others by sharps in keys that have sharps, else C#,
/// Eb, F#, G#, Bb (common practice, no source). German: Fis5, Es5, H5, B5.
std::string note_name(int midi, int key_pitch_class, NoteNames names = NoteNames::english);

/// The note's name with that of a further fingering: "D6 vented"; in the order of a run a colon joins them.
std::string with_fingering(std::string name, const NoteId& note, const char* joined_by = " ");

/// Sounding frequency in equal temperament (ISO 16, MIDI Tuning Standard).
double equal_tempered_hz(double midi, double a4_hz);

}  // namespace windway
