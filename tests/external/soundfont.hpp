// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

namespace windway::external_tests {

/// One key, held 2 s, and how far it is to be tuned from where the soundfont has it.
struct TunedKey {
  int key = 0;
  int offset_cents = 0;  ///< whole cents, -99 to 99
};

/// Programs of General MIDI, counted from 0 (MIDI Manufacturers Association, General MIDI level 1 sound set).
inline constexpr int grand_piano_program = 0;
inline constexpr int church_organ_program = 19;
inline constexpr int accordion_program = 21;
inline constexpr int flute_program = 73;
inline constexpr int recorder_program = 74;

/// A Standard MIDI File (format 0) that plays the keys one after the other, tuned by the MIDI Tuning Standard (MIDI 1.0
/// Detailed Specification, universal real-time message 08 02; RPN 3 and 4). Controller 10 moves it wholly to the left
/// where asked: recorded pianos sound differently in the two channels, and of two alike windway takes either.
std::string midi_file(const std::vector<TunedKey>& keys, int program = recorder_program, bool wholly_left = false);

inline const std::string folder_of_fonts = "/usr/share/sounds/sf2/";

/// Plays a MIDI file into a WAV file by FluidSynth, without reverberation and chorus; false where there is no
/// FluidSynth.
bool play_soundfont(const std::string& font, const std::string& midi_path, const std::string& wav_path);

/// One note of a melody.
struct PlayedKey {
  int key = 0;
  double length_s = 0;
  double rest_s = 0;  ///< after it; 0: the next follows at once
};

/// The same for a melody on General MIDI program `program` (counted from 0: 73 flute, 74 recorder, 78 whistle); keys
/// that are not in `tuning` stay as they are.
std::string midi_melody(int program, const std::vector<TunedKey>& tuning, const std::vector<PlayedKey>& melody);

}  // namespace windway::external_tests
