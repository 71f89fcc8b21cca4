// SPDX-License-Identifier: GPL-3.0-or-later
#include "scale/octave.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "error.hpp"

namespace windway {
namespace {

constexpr double margin_semitones = 0.9;  // a flute 60 cents off, a soft blow 30 more
constexpr double too_high_share = 0.15;   // of the holds: three notes of a whistle's two octaves
constexpr double too_low_share = 0.19;    // likewise, where the lowest notes were dropped as out of range
constexpr double fitting_share = 0.9;     // of the holds that the other octave must take in
constexpr std::size_t whole_scale_notes = 6;
constexpr int highest_usual_lowest_midi = 84;  // garklein recorder in C6 (from memory)

double share_between(const std::vector<double>& pitches, double low, double high) {
  const auto inside = std::count_if(pitches.begin(), pitches.end(), [=](double p) { return p >= low && p <= high; });
  return static_cast<double>(inside) / static_cast<double>(pitches.size());
}

std::size_t different_notes(std::vector<double> pitches) {
  constexpr double one_note_semitones = 0.6;  // wider than two neighbouring blows of one note lie apart
  std::sort(pitches.begin(), pitches.end());
  std::size_t notes = 1;
  for (std::size_t i = 1; i < pitches.size(); ++i)
    if (pitches[i] - pitches[i - 1] > one_note_semitones) ++notes;
  return notes;
}

/// Nothing of the first octave, but a scale that begins on the lowest note's octave: who blows the upper register only
/// does not begin there and play on for six notes.
bool is_scale_from_octave(const std::vector<double>& pitches, double least, double lowest) {
  return std::abs(std::remainder(least - lowest, 12.0)) < margin_semitones &&
         different_notes(pitches) >= whole_scale_notes;
}

}  // namespace

int octaves_off(const Instrument& told, const std::vector<double>& pitches) {
  const double lowest = told.lowest_midi;
  const double highest = told.scale.empty() ? lowest : told.scale.back().id.midi;
  const double least = *std::min_element(pitches.begin(), pitches.end());
  const int octaves = static_cast<int>(std::floor((least - lowest + margin_semitones) / 12.0));
  const double fits =
      share_between(pitches, lowest + 12 * octaves - margin_semitones, highest + 12 * octaves + margin_semitones);
  if (fits < fitting_share || lowest + 12 * octaves > highest_usual_lowest_midi) return 0;
  const double above = share_between(pitches, highest + margin_semitones, 1e9);
  const double below = share_between(pitches, -1e9, lowest - margin_semitones);
  const bool too_low = octaves > 0 && (above >= too_high_share || is_scale_from_octave(pitches, least, lowest));
  const bool too_high = octaves < 0 && below >= too_low_share;
  return too_low || too_high ? octaves : 0;
}

void check_octave(const Instrument& told, const std::vector<double>& pitches) {
  const int octaves = octaves_off(told, pitches);
  if (octaves == 0) return;
  const std::string said = spelt(told.lowest_midi, told);
  const std::string heard = spelt(told.lowest_midi + 12 * octaves, told);
  throw Error(ErrorKind::usage,
              octaves > 0 ? "whistles and soprano recorders sound an octave above their written notes: the "
                            "recording says " +
                                heard + ", not " + said + "; give the lowest note as it sounds: --lowest " + heard
                          : "the lowest note is the one that sounds, not the one written: the recording says " + heard +
                                ", not " + said + "; if its lowest note is another, give that");
}

}  // namespace windway
