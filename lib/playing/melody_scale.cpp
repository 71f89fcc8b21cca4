// SPDX-License-Identifier: GPL-3.0-or-later
#include "playing/melody_scale.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>
#include <utility>

#include "scale/range.hpp"
#include "units/units.hpp"

namespace windway {
namespace {

// A melody differs from talk and noise in two things (judgements): notes stay where they are for most of the time, and
// they lie on one lattice of semitones, as sharp as the whole may be.
constexpr double least_staying_share = 0.65;
constexpr double least_on_lattice = 0.25;  // length of the mean of unit vectors, a turn to the semitone
constexpr double least_notes_s = 1.0;

constexpr std::size_t most_named = 600;  // the longest notes name the instrument
constexpr double stranger_s = 0.5;  // what sounds no longer in all, and is not of the scale, is no note of the melody
constexpr double stray_apart_cents = 550;  // a melody leaps that far, but seldom to a note of no other use

using Notes = std::vector<const MelodyNote*>;

/// Leaves out notes that lie far from all others and make half a second at most: a word spoken, a door.
Notes without_strays(const Melody& melody) {
  Notes notes, kept;
  for (const MelodyNote& note : melody.notes) notes.push_back(&note);
  std::ranges::stable_sort(notes, {}, &MelodyNote::cents);
  for (auto from = notes.begin(), to = from; from != notes.end(); from = to) {
    double group_s = 0;
    for (; to != notes.end() && (to == from || (*to)->cents - to[-1]->cents <= stray_apart_cents); ++to)
      group_s += (*to)->sounded_s;
    if (group_s > stranger_s) kept.insert(kept.end(), from, to);
  }
  return kept;
}

bool is_melody(const Notes& notes, double tonal_s) {
  double staying_s = 0, x = 0, y = 0;
  for (const MelodyNote* note : notes) {
    const double turn_rad = 2.0 * std::numbers::pi * note->cents / 100.0;
    staying_s += note->sounded_s;
    x += note->sounded_s * std::cos(turn_rad);
    y += note->sounded_s * std::sin(turn_rad);
  }
  return staying_s >= least_notes_s && staying_s >= least_staying_share * tonal_s &&
         std::hypot(x, y) >= least_on_lattice * staying_s;
}

/// The longest notes as holds, in order of time, for the naming.
std::vector<Hold> as_holds(Notes notes) {
  std::ranges::stable_sort(notes, std::greater{}, &MelodyNote::sounded_s);
  if (notes.size() > most_named) notes.resize(most_named);
  std::ranges::sort(notes, {}, &MelodyNote::start_s);
  std::vector<Hold> holds;
  for (const MelodyNote* note : notes) {
    Hold& hold = holds.emplace_back();
    hold.start_s = hold.steady_start_s = note->start_s;
    hold.end_s = hold.steady_end_s = note->end_s;
    hold.frequency_hz = hz_at_cents(440.0, note->cents);
    hold.level_db = note->level_db;
  }
  return holds;
}

/// A note that the melody plays.
struct MelodyPitch {
  int midi = 0;
  double cents = 0;      ///< above 440 Hz: the median over time
  double sounded_s = 0;  ///< in all
};

MelodyPitch melody_pitch(int midi, std::vector<const Hold*>& holds) {
  std::ranges::sort(holds, {}, &Hold::frequency_hz);
  MelodyPitch pitch{midi, 0, 0};
  for (const Hold* hold : holds) pitch.sounded_s += hold->end_s - hold->start_s;
  double below_s = 0;
  for (const Hold* hold : holds) {
    pitch.cents = cents_between(440.0, hold->frequency_hz);
    if ((below_s += hold->end_s - hold->start_s) >= 0.5 * pitch.sounded_s) break;
  }
  return pitch;
}

/// The pitches of the melody, ascending; what is heard for a moment only and not of the scale is none.
std::vector<MelodyPitch> melody_pitches(const Naming& naming) {
  std::map<int, std::vector<const Hold*>> by_midi;
  for (const NamedHold& named : naming.holds) by_midi[named.note.midi].push_back(&named.hold);
  std::vector<MelodyPitch> pitches;
  for (auto& [midi, holds] : by_midi) {
    const MelodyPitch pitch = melody_pitch(midi, holds);
    if (pitch.sounded_s < stranger_s && !scale_note(naming.instrument, {midi})) continue;
    const bool is_last_again = !pitches.empty() && pitch.cents - pitches.back().cents < half_semitone_cents;
    if (!is_last_again)
      pitches.push_back(pitch);
    else if (pitch.sounded_s > pitches.back().sounded_s)
      pitches.back() = pitch;
  }
  return pitches;
}

}  // namespace

std::optional<MelodyScale> scale_of(const Melody& melody, const InstrumentHint& hint, const Tuning& tuning) {
  const Notes notes = without_strays(melody);
  if (!is_melody(notes, melody.tonal_s)) return std::nullopt;
  const std::vector<Hold> holds = in_range(as_holds(notes), hint, tuning.a4_hz);
  MelodyScale scale{name_holds(holds, hint, tuning), {}};
  const std::vector<MelodyPitch> pitches = melody_pitches(scale.naming);
  for (const MelodyNote& note : melody.notes) {
    const auto off_cents = [&](const MelodyPitch& pitch) { return std::abs(pitch.cents - note.cents); };
    const auto nearest = std::ranges::min_element(pitches, {}, off_cents);
    if (nearest != pitches.end() && off_cents(*nearest) < half_semitone_cents)
      scale.notes[nearest->midi].push_back(note);
  }
  return scale;
}

}  // namespace windway
