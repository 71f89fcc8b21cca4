// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "support/plan.hpp"
#include "support/truth.hpp"

namespace windway::synthesis {

/// What an invented maker's instrument file for this model asks; bench_whistle_toml() says the same.
struct BenchLimits {
  double tolerance_cents = 25.0;
  double max_spread_cents = 60.0;
  double least_out_mm = 2.0;  ///< where an instrument's own best place must lie
  double most_out_mm = 8.0;
  double travel_mm = 12.0;
};

/// What a bench of instruments of one model is drawn by: whistles on D5 for A4 = 440 Hz, played over two octaves.
struct BenchPlan {
  int instruments = 200;
  std::uint64_t seed = 5;
  double note_sd_cents = 6.0;  ///< of a note's own error
  double head_sd_mm = 0.5;     ///< of an instrument's own best place about 5 mm, and of the head recorded about that
  double hole_error_mm = 0.8;  ///< + too far from the window, common to all: flat by K ln((L + error) / L)
  int hole_semitones = 7;      ///< which hole: of that degree above the lowest note; both registers speak by it
  int faults = 10;             ///< as many instruments, evenly spread over the bench, have a planted fault
  double drift_cents_per_day = 0;  ///< drift of the measuring, for takes of the keeper and of the bench alike
};

/// One instrument of the bench with all that is true of it.
struct BenchFlute {
  std::string serial;                        ///< "HW-1001" and up in the order of production
  std::string fault;                         ///< one of bench_faults(); empty: good
  FluteModel as_recorded;                    ///< with its head at head_out_mm
  double head_out_mm = 0.0;                  ///< while it was recorded, to the tenth as a maker reads it; exact
  std::vector<TrueNote> notes;               ///< played ones, as recorded
  LeastCost best;                            ///< its own best slide within the travel, from where it was recorded
  std::vector<double> moved_moderate_cents;  ///< of `notes` after that slide
  std::optional<int> off_midi;               ///< the note that is off, where one is
};

/// "one note off", "octave wide", "spread too large", "silent take", "wrong key", "body too long".
std::vector<std::string> bench_faults();

/// Notes that are played: the major scale over two octaves from the lowest note.
std::vector<int> bench_notes(const FluteModel& flute);
/// How strong the bench's players' soft and hard are.
Strengths bench_strengths();

/// The same plan gives the same bench; without faults a larger bench begins with the smaller one. A note's own error
/// has two parts: one of its hole, 0.9 of the SD, alike in both registers, and one of each register alone. Good
/// instruments are drawn again until they are: after the best slide within 20 cents, octaves within 15, head 2.5 to 7.5
/// mm out, spreads within 50 cents; so must be the same instrument with all its own errors turned round, or the
/// redrawing would lean on the mean (at SD 6 cents 6 draws in 100 are dropped, and the own errors of the notes with the
/// common error keep an SD of 5.6). A faulty one is as good before its fault is planted; one whose one note is off is
/// drawn again until that note alone is beyond 30 cents after the best slide.
std::vector<BenchFlute> draw_bench(const BenchPlan& plan);

/// The bench's own flute, HW-0001: good, never sold.
BenchFlute draw_keeper(const BenchPlan& plan);

}  // namespace windway::synthesis
