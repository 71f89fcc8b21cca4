// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "instrument/instrument.hpp"
#include "units/units.hpp"
#include "verdict/common_errors.hpp"

namespace windway {

/// A note of the model that the bench makes.
struct PlaceOfNote {
  NoteId id{};
  int register_number = 1;
  int semitones_above_lowest = 0;    ///< whole compass: 12 is the octave of the lowest note
  double effective_length_mm = 0.0;  ///< register * c / (2 f), any instrument's or the target's: 1 % is near enough
};

/// One instrument of the bench as it was recorded, before any move.
struct InstrumentCents {
  std::vector<std::optional<double>> moderate_cents;  ///< by PlaceOfNote; absent: not measured
};

/// What would answer the common error of a degree.
enum class HoleWork {
  none,         ///< nothing sure
  enlarge,      ///< flat: enlarging or undercutting the hole raises its notes, or moving it to the window
  fill,         ///< sharp: filling lowers them, or moving the hole away from the window
  shorten,      ///< the lowest note, flat: it has no hole, its length is the body's
  lengthen,     ///< the lowest note, sharp
  no_one_hole,  ///< a note that several holes give (a fork) or a further register: cents, no place
};

struct RegisterCents {
  NoteId id;
  int register_number = 1;
  CentsEstimate common;
};

/// The error that all instruments of a bench have in common on one degree, or one instrument by itself. Notes of the
/// first and second register of equal effective length speak by one hole and are one degree.
struct HoleAdvice {
  int degree_semitones =
      0;                 ///< above the lowest note; from 12 on: a note that shares its length with none an octave down
  CentsEstimate common;  ///< + sharp, mean of its registers, against the baseline of the other degrees
  std::vector<RegisterCents> by_register;
  bool registers_disagree = false;    ///< by more than chance shows on any degree: one hole cannot answer both
  std::optional<double> move_mm;      ///< + towards the window; only where is_sure and one hole (or the end) gives it
  std::optional<double> move_u95_mm;  ///< with 5 % for the law; where registers disagree, half their difference too
  HoleWork work = HoleWork::none;
  /// Beyond what chance alone would show on any of the degrees in 95 of 100 benches (Sidak), half the registers'
  /// difference counted in where they disagree: stricter than its own u95.
  bool is_sure = false;
};

/// Which degree a note belongs to: first and second register of equal effective length are one; a third register is
/// fingered otherwise.
int hole_degree(int register_number, int semitones_above_lowest);

/// Degree by degree, from the lowest, each against the line that the others keep; none below four degrees.
std::vector<HoleAdvice> degree_advice(const std::vector<PlaceOfNote>& places, const CommonErrors& errors, Kind kind);

struct BenchAdvice {
  std::vector<HoleAdvice> degrees;  ///< from the lowest
  int instruments = 0;
  /// How far (+) too far out the heads of the whole bench were as recorded, or all its holes and its end too far from
  /// the window: a scale cannot tell which, as the slide answers both alike. No advice says anything of it.
  double unobservable_slide_mm = 0.0;
  double baseline_sd_cents = 0.0;  ///< how far degrees without a fault of their own lie about the baseline
};

/// The errors common to a bench, degree by degree, and what place of the hole would answer them. Against a robust
/// baseline: the slide that the other degrees of the model agree on, found on the bench's common errors, where a fault
/// of a few cents stands out of the noise that hides it on one instrument. Absent for fewer than eight instruments or
/// four degrees. Each instrument's `moderate_cents` must be as long as `places`. Moving a hole by dx towards the window
/// raises its notes by about 1731 dx / L cents, L being the effective length (Benade 1976, Nederveen 1998, from
/// memory). A whistle's flat seventh, a recorder's fourth and its notes outside the major scale are fork-fingered
/// (common practice, no source).
std::optional<BenchAdvice> bench_advice(const std::vector<PlaceOfNote>& places,
                                        const std::vector<InstrumentCents>& instruments, Kind kind);

}  // namespace windway
