// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <optional>
#include <string>

#include "instrument/note.hpp"

namespace windway {

enum class TemperamentName { equal, just, pythagorean, meantone, own };

/// How a scale is tempered. Every note has its place above the key note: just by the usual ratios (16/15, 9/8, 6/5,
/// 5/4, 4/3, 45/32, 3/2, 8/5, 5/3, 9/5, 15/8), Pythagorean and quarter-comma meantone as a chain of fifths from three
/// below the key note to eight above it (E flat to G sharp on C).
struct Temperament {
  TemperamentName name = TemperamentName::equal;
  /// 0 = C ... 11 = B; absent: the instrument's lowest note. Equal temperament has none.
  std::optional<int> key_pitch_class{};
  /// Of `own`: cents of the twelve semitones above the key note, the first 0, ascending.
  std::array<double, 12> own_cents{};
};

/// Cents of the twelve semitones above the key note; the first is 0. (Ratios and sizes: H. L. F. Helmholtz & A. J.
/// Ellis, On the Sensations of Tone (1885), app. XX, from memory.)
std::array<double, 12> cents_above_key(const Temperament& temperament);

/// The reference pitch and how the notes lie about it. A4 always sounds at a4_hz.
struct Tuning {
  double a4_hz = 440.0;  ///< ISO 16
  Temperament temperament{};
};

/// Cents of a MIDI key above its place in equal temperament; 0 for every A. The key must be there unless equal.
double cents_from_equal(int midi, const Temperament& temperament);

/// Sounding frequency of a note as the temperament has it; where a maker means it elsewhere, see instrument.hpp.
double target_hz(int midi, const Tuning& tuning);

/// "equal", "just", "pythagorean", "meantone", "own": the words of options, files and JSON.
std::string temperament_word(TemperamentName name);
/// The other way; empty where no temperament has that name.
std::optional<TemperamentName> temperament_called(const std::string& word);

/// For sentences: "equal temperament", "just on D".
std::string temperament_in_words(const Temperament& temperament, NoteNames names = NoteNames::english);

}  // namespace windway
