// SPDX-License-Identifier: GPL-3.0-or-later
#include "playing/melody_scale.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <numbers>
#include <utility>

#include "playing/stretches.hpp"
#include "scale/range.hpp"
#include "units/units.hpp"

namespace windway {
namespace {

// Told from talk and noise by two things (judgements): notes stay where they are for most of the time, and they lie on
// one lattice of semitones, as sharp as the whole may be.
constexpr double least_staying_share = 0.35;
constexpr double least_on_lattice = 0.25;  // length of the mean of unit vectors, a turn to the semitone
constexpr double least_notes_s = 1.0;
constexpr std::size_t most_named = 600;  // the longest stretches name the instrument

constexpr double least_of_note_s = 0.05;     // in stretches, which leave the notes' ends out
constexpr double least_of_stranger_s = 0.3;  // of a note outside the scale
constexpr double stray_s = 0.5;
constexpr double stray_apart_cents = 550;  // a melody leaps that far, but seldom to a note of no other use
constexpr double same_note_cents = 45.0;

bool is_melody(const Melody& melody, const std::vector<Stretch>& stretches) {
  const auto sounding = std::ranges::count_if(melody.frames, &MelodyFrame::sounds);
  double staying = 0, x = 0, y = 0;
  for (const Stretch& stretch : stretches) {
    const auto frames = static_cast<double>(stretch.frames());
    const double turn_rad = 2.0 * std::numbers::pi * stretch.cents / 100.0;
    staying += frames;
    x += frames * std::cos(turn_rad);
    y += frames * std::sin(turn_rad);
  }
  return staying * melody.hop_s >= least_notes_s && staying >= least_staying_share * static_cast<double>(sounding) &&
         std::hypot(x, y) >= least_on_lattice * staying;
}

/// Leaves out stretches that lie far from all others and make half a second at most: a word spoken, a door.
std::vector<Stretch> without_strays(std::vector<Stretch> stretches, double hop_s) {
  std::ranges::sort(stretches, {}, &Stretch::cents);
  std::vector<Stretch> kept;
  for (std::size_t from = 0, to = 0; from < stretches.size(); from = to) {
    double group_s = 0;
    for (; to < stretches.size(); ++to) {
      if (to > from && stretches[to].cents - stretches[to - 1].cents > stray_apart_cents) break;
      group_s += static_cast<double>(stretches[to].frames()) * hop_s;
    }
    if (group_s <= stray_s) continue;
    kept.insert(kept.end(), stretches.begin() + static_cast<long>(from), stretches.begin() + static_cast<long>(to));
  }
  std::ranges::sort(kept, {}, &Stretch::first);
  return kept;
}

/// The longest stretches as holds, in order of time, for the naming.
std::vector<Hold> as_holds(const Melody& melody, std::vector<Stretch> stretches) {
  if (stretches.size() > most_named) {
    std::ranges::nth_element(stretches, stretches.begin() + most_named, std::greater{}, &Stretch::frames);
    stretches.resize(most_named);
    std::ranges::sort(stretches, {}, &Stretch::first);
  }
  std::vector<Hold> holds;
  for (const Stretch& stretch : stretches) {
    Hold hold;
    hold.start_s = hold.steady_start_s = melody.time_s(stretch.first);
    hold.end_s = hold.steady_end_s = melody.time_s(stretch.last);
    hold.frequency_hz = hz_at_cents(440.0, stretch.cents);
    hold.level_db = stretch.level_db;
    holds.push_back(hold);
  }
  return holds;
}

double length_s(const Hold& hold, double hop_s) { return hold.end_s - hold.start_s + hop_s; }

/// Where the note lies: the median over time.
double middle_cents(std::vector<std::pair<double, double>> cents_and_s) {
  std::ranges::sort(cents_and_s);
  double all_s = 0, below_s = 0;
  for (const auto& [cents, seconds] : cents_and_s) all_s += seconds;
  for (const auto& [cents, seconds] : cents_and_s)
    if ((below_s += seconds) >= 0.5 * all_s) return cents;
  return cents_and_s.back().first;
}

/// The notes that the named stretches play, ascending; what is heard for a moment only and not of the scale is none.
std::vector<MelodyPitch> melody_pitches(const Naming& naming, double hop_s) {
  std::map<int, std::vector<std::pair<double, double>>> by_midi;
  std::map<int, double> sounded_s;
  for (const NamedHold& named : naming.holds) {
    by_midi[named.midi].emplace_back(cents_between(440.0, named.hold.frequency_hz), length_s(named.hold, hop_s));
    sounded_s[named.midi] += length_s(named.hold, hop_s);
  }
  std::vector<MelodyPitch> pitches;
  for (const auto& [midi, heard] : by_midi) {
    const bool in_scale = scale_note(naming.instrument, midi) != nullptr;
    if (sounded_s[midi] < (in_scale ? least_of_note_s : least_of_stranger_s)) continue;
    const MelodyPitch pitch{midi, middle_cents(heard)};
    const bool is_last_again = !pitches.empty() && pitch.cents - pitches.back().cents < same_note_cents;
    if (!is_last_again)
      pitches.push_back(pitch);
    else if (sounded_s[midi] > sounded_s[pitches.back().midi])
      pitches.back() = pitch;
  }
  return pitches;
}

}  // namespace

std::optional<MelodyScale> scale_of(const Melody& melody, const InstrumentHint& hint, const Tuning& tuning) {
  const std::vector<Stretch> stretches = without_strays(find_stretches(melody), melody.hop_s);
  if (!is_melody(melody, stretches)) return std::nullopt;
  const std::vector<Hold> holds = in_range(as_holds(melody, stretches), hint, tuning.a4_hz);
  MelodyScale scale{name_holds(holds, hint, tuning), {}};
  scale.pitches = melody_pitches(scale.naming, melody.hop_s);
  return scale;
}

}  // namespace windway
