// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "instrument/note.hpp"
#include "instrument/temperament.hpp"

namespace windway {

enum class Kind { whistle, recorder };

/// One note that the instrument's fingering gives. A note with a second fingering stands twice, the usual one first.
struct ScaleNote {
  NoteId id{};
  int register_number = 1;                   ///< 1st, 2nd, 3rd register: which mode of the bore sounds
  double weight = 1.0;                       ///< in the compromise
  bool can_check = true;                     ///< may serve to set the head by: not where a hole is half covered
  double target_cents = 0.0;                 ///< where the maker means it to lie off the temperament, + sharp
  std::optional<double> tolerance_cents{};   ///< where it differs from the instrument's
  std::optional<double> max_spread_cents{};  ///< likewise
};

/// A note that its maker means to lie off the temperament.
struct NoteTarget {
  NoteId id{};
  double cents = 0.0;  ///< + sharp
  bool operator==(const NoteTarget&) const = default;
};

/// How much more (or less) than the law of the slide says the pitch of this instrument changes, as measured on it.
struct SlideFactor {
  double factor = 1.0;
  double u95 = 0.0;
};

/// A range of places of the head: how far it is drawn out of fully in.
struct HeadRange {
  double min_mm = 0.0;
  double max_mm = 0.0;
};

/// Who makes it, for the sheet that its buyer gets.
struct Maker {
  std::optional<std::string> name{};
  std::vector<std::string> address{};  ///< by line
  std::optional<std::string> model{};  ///< what the buyer's sheet calls the instrument
  bool operator==(const Maker&) const = default;
};

struct Instrument {
  std::optional<std::string> name;
  Kind kind = Kind::whistle;
  int lowest_midi = 0;
  std::vector<ScaleNote> scale;     ///< ascending
  std::optional<double> travel_mm;  ///< how far the head can be drawn out of its fully-in place
  bool head_moves = true;
  std::optional<HeadRange> head_out_range_mm;  ///< where its own best place must lie
  std::optional<SlideFactor> slide_factor;     ///< absent: not calibrated
  std::optional<double> a4_hz;                 ///< the reference pitch it is made for
  std::optional<Temperament> temperament;      ///< that it is made for; absent: equal
  double stretch_cents_per_octave = 0.0;       ///< octaves are made so much wide, from the lowest note on evenly
  std::optional<double> tolerance_cents;       ///< of a note after the instrument's own best slide
  std::optional<double> max_spread_cents;      ///< from soft to hard
  std::optional<double> quote_at_c;            ///< bore temperature that its notes are told for
  std::optional<double> max_octave_cents;      ///< the upper notes against the lower, their mean, either way
  NoteNames note_names = NoteNames::english;   ///< how sentences about it spell its notes
  std::optional<Maker> maker{};                ///< absent: not said
};

/// The built-in instrument of a kind on a lowest note. A whistle: the major scale and the flat seventh over two
/// octaves and a second; a recorder: chromatic over two octaves and a tone. Registers from memory (no source):
/// whistle 2nd from the octave up; recorder 1st to 14 semitones above the lowest note, 2nd to 21, 3rd beyond. Notes
/// above the highest MIDI key are left out.
Instrument builtin_instrument(Kind kind, int lowest_midi);

/// The key note that an instrument's notes are spelt by, its lowest: 0 = C ... 11 = B.
int key_pitch_class(const Instrument& instrument);

/// The note in the instrument's scale; null where its fingering does not give it.
const ScaleNote* scale_note(const Instrument& instrument, const NoteId& note);

/// Where the maker means a note to lie off the temperament, cents, + sharp: its own target and the scale's stretch.
double intended_cents(const Instrument& instrument, const NoteId& note);

/// The notes with a target of their own, ascending; the stretch is not counted in.
std::vector<NoteTarget> own_targets(const Instrument& instrument);

/// Sounding frequency that the note of this instrument should have.
double target_hz(const NoteId& note, const Instrument& instrument, const Tuning& tuning);

/// A note's name as sentences about the instrument spell it.
std::string spelt(int midi, const Instrument& instrument);
/// With the name of a further fingering: "D6 vented".
std::string spelt(const NoteId& note, const Instrument& instrument);

/// The same instrument, its notes spelt so.
Instrument spelling_as(NoteNames note_names, Instrument instrument);

/// Register of a note `semitones` above the lowest by the rule above.
int register_of(Kind kind, int semitones_above_lowest);

std::string kind_name(Kind kind);

/// "D" of a flute whose lowest note is D5, as sentences about it spell it.
std::string key_name(const Instrument& instrument);
/// "whistle in D from D5"
std::string described(const Instrument& instrument);

}  // namespace windway
