// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "scale/scale_model.hpp"

namespace windway {

/// What of a hold goes into its name.
struct HeardHold {
  double pitch = 0;  ///< fractional MIDI key at the reference pitch
  double level_db = 0;
};

/// The holds of one take in order of time.
using HeardTake = std::vector<HeardHold>;

/// What is known of a take while its holds are named.
struct TakeContext {
  double offset_cents = 0;                     ///< how sharp the whole take is
  std::array<double, midi_keys> note_cents{};  ///< by MIDI key: how far a note lies off beyond that
  int repeats = 0;                             ///< how often each note is played in turn; 0: no habit known
};

/// The most probable sequence of notes, and the log of its prior times likelihood.
struct NotePath {
  double log_score = 0;
  std::vector<int> midi;  ///< by hold
};

/// By hold, what that hold and those after it can at most add to a path's score under any model, the take being
/// `offset_cents` sharp; 0 after the last hold.
std::vector<double> most_from_hold(const HeardTake& take, double offset_cents);

/// Names the holds of takes by the rule of Viterbi. A hold is one of the three nearest semitones. Takes and model must
/// outlive it.
class NotePaths {
 public:
  /// `furthest_offset_cents`: of any context that will be asked for.
  NotePaths(const std::vector<HeardTake>& takes, const ScaleModel& model, double furthest_offset_cents);

  /// An empty take has an empty path.
  NotePath best(std::size_t take, const TakeContext& context) const;
  /// Empty where its score would be under `least_log_score`; given up as soon as most_from_hold says so.
  std::optional<NotePath> best_from(std::size_t take, const TakeContext& context, double least_log_score,
                                    const std::vector<double>& most_from) const;

 private:
  const std::vector<HeardTake>& takes_;
  const ScaleModel& model_;
  MovePriors moves_;
  std::vector<std::vector<double>> contradiction_;  ///< by take, by hold: speaks against the note of the hold before
};

/// How often in turn each note is played, where most are played alike; 0 where there is no such habit.
int repeats_in(const std::vector<int>& midi);

}  // namespace windway
