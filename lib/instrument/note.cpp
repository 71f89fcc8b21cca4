// SPDX-License-Identifier: GPL-3.0-or-later
#include "instrument/note.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cctype>
#include <cmath>

#include "error.hpp"

namespace windway {
namespace {

constexpr int h_letter = -1;  // H of the german names, not yet read
using Names = std::array<const char*, 12>;

constexpr Names sharp_names = {"C", "C#", "D", "D#", "E", "F", "F#", "G", "G#", "A", "A#", "B"};
constexpr Names flat_names = {"C", "Db", "D", "Eb", "E", "F", "Gb", "G", "Ab", "A", "Bb", "B"};
// What players call the notes between, where no key signature says otherwise (common practice, no source).
constexpr Names common_names = {"C", "C#", "D", "Eb", "E", "F", "F#", "G", "G#", "A", "Bb", "B"};

struct NoteText {
  char letter = 0;         ///< upper case
  std::string accidental;  ///< "", #, b, is, es, s
  std::string octave;
};

[[noreturn]] void refuse(std::string_view text) {
  throw Error(ErrorKind::usage, "no note is called \"" + std::string(text) +
                                    "\": write a letter from A to G, with # or b where it needs one, and the octave "
                                    "where you know it: D, Bb, F#5");
}

void replace_all(std::string& text, std::string_view from, std::string_view to) {
  for (auto at = text.find(from); at != std::string::npos; at = text.find(from, at)) text.replace(at, from.size(), to);
}

std::string plain_text(std::string_view text) {
  std::string plain(text);
  replace_all(plain, "\u266D", "b");
  replace_all(plain, "\u266F", "#");
  const auto first = plain.find_first_not_of(" \t");
  return first == std::string::npos ? "" : plain.substr(first, plain.find_last_not_of(" \t") - first + 1);
}

NoteText split_note(std::string_view text) {
  const std::string plain = plain_text(text);
  if (plain.empty()) refuse(text);
  NoteText note;
  note.letter = static_cast<char>(std::toupper(static_cast<unsigned char>(plain[0])));
  const auto digits = std::min(plain.find_first_of("0123456789"), plain.size());
  for (std::size_t i = 1; i < digits; ++i)
    note.accidental += static_cast<char>(std::tolower(static_cast<unsigned char>(plain[i])));
  note.octave = plain.substr(digits);
  return note;
}

/// Semitones the accidental adds; absent where it is none. German Es and As swallow a vowel.
std::optional<int> semitones_of(const NoteText& note) {
  if (note.accidental.empty()) return 0;
  if (note.accidental == "#" || note.accidental == "is") return 1;
  if (note.accidental == "b" || note.accidental == "es") return -1;
  if (note.accidental == "s" && (note.letter == 'E' || note.letter == 'A')) return -1;
  return std::nullopt;
}

int pitch_class_of_letter(char letter, std::string_view text) {
  constexpr std::array<int, 7> from_a = {9, 11, 0, 2, 4, 5, 7};
  if (letter == 'H') return h_letter;
  if (letter < 'A' || letter > 'G') refuse(text);
  return from_a[static_cast<std::size_t>(letter - 'A')];
}

void ask_about_h(const NoteText& note) {
  const std::string h = "H" + note.accidental + note.octave;
  throw Error(ErrorKind::usage, "H is B natural in German names: write B" + note.accidental + note.octave +
                                    " if you mean that, or say " + h + " with --note-names german");
}

/// By the key signature, with the flat seventh; other notes by sharps in keys that have sharps, else as is common.
std::string english_name(int pitch_class, int key_pitch_class) {
  constexpr std::array<bool, 12> has_flats = {false, true, false, true, false, true, false, false, true, false, true};
  constexpr std::array<bool, 12> in_scale = {true,  false, true,  false, true, true,
                                             false, true,  false, true,  true, true};
  const auto note = static_cast<std::size_t>(pitch_class);
  const auto degree = static_cast<std::size_t>((pitch_class - key_pitch_class + 12) % 12);
  if (key_pitch_class == 6 && degree == 11) return "E#";  // F sharp major's own spelling
  const bool is_flat_key = has_flats[static_cast<std::size_t>(key_pitch_class)];
  if (!is_flat_key && key_pitch_class != 0) return sharp_names[note];
  return (is_flat_key && in_scale[degree] ? flat_names : common_names)[note];
}

/// "Fis" of F#, "Es" of Eb, "As" of Ab, "H" of B, "B" of Bb.
std::string german_name(const std::string& english) {
  if (english == "B") return "H";
  if (english == "Bb") return "B";
  const std::string letter = english.substr(0, 1);
  if (english.ends_with('#')) return letter + "is";
  if (english.ends_with('b')) return letter + (letter == "E" || letter == "A" ? "s" : "es");
  return letter;
}

/// The german B is flat already: B and Bb both mean B flat, B sharp means nothing.
int german_b_semitones(int semitones, std::string_view text) {
  if (semitones > 0)
    throw Error(ErrorKind::usage, "\"" + std::string(text) +
                                      "\" is not a German name, where B is B flat: write H for B natural, or leave "
                                      "--note-names german out");
  return -1;
}

}  // namespace

WrittenNote parse_note(std::string_view text, NoteNames names) {
  const NoteText parts = split_note(text);
  int letter_class = pitch_class_of_letter(parts.letter, text);
  const auto accidental = semitones_of(parts);
  if (!accidental || parts.octave.size() > 1) refuse(text);
  int semitones = *accidental;
  if (letter_class == h_letter) {
    if (names == NoteNames::english) ask_about_h(parts);
    letter_class = 11;
  } else if (parts.letter == 'B' && names == NoteNames::german) {
    semitones = german_b_semitones(semitones, text);
  }
  WrittenNote note;
  note.pitch_class = (letter_class + semitones + 12) % 12;
  note.flat = semitones < 0;
  if (!parts.octave.empty()) {
    // The octave counts from the letter: Cb5 sounds as B4, B#4 as C5.
    const int sounding = letter_class + semitones;
    note.octave = parts.octave[0] - '0' + (sounding < 0 ? -1 : sounding > 11 ? 1 : 0);
    if (!is_midi_key(midi_of(note))) refuse(text);
  }
  return note;
}

int midi_of(const WrittenNote& note) {
  assert(note.octave);
  return 12 * (*note.octave + 1) + note.pitch_class;
}

std::string note_name(int midi, int key_pitch_class, NoteNames names) {
  const int pitch_class = ((midi % 12) + 12) % 12;
  const std::string name = english_name(pitch_class, key_pitch_class);
  return (names == NoteNames::german ? german_name(name) : name) + std::to_string((midi - pitch_class) / 12 - 1);
}

std::string with_fingering(std::string name, const NoteId& note, const char* joined_by) {
  return note.fingering.empty() ? name : name + joined_by + note.fingering;
}

double equal_tempered_hz(double midi, double a4_hz) { return a4_hz * std::exp2((midi - 69.0) / 12.0); }

}  // namespace windway
