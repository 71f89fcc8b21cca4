// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <vector>

#include "instrument/instrument.hpp"

namespace windway {

/// What may be expected of a player of one instrument in one key, before anything is heard. Arrays are by MIDI key.
struct ScaleModel {
  Instrument instrument;
  double log_prior = 0;  ///< of the instrument and the key
  std::array<bool, midi_keys> in_scale{};
  std::array<bool, midi_keys> expected{};          ///< in the scale and in the key: a whole run plays it
  std::array<double, midi_keys> note_log_prior{};  ///< of one hold
  std::array<bool, midi_keys> steady{};            ///< the breath hardly bends it
  std::array<double, midi_keys> step{};  ///< place in the key's scale; a note between two degrees stands halfway
};

/// A whistle is played in its own major key; a recorder, and any other instrument that gives ten or more of the
/// twelve semitones, in one of the twelve major keys: a model for each.
std::vector<ScaleModel> scale_models(const Instrument& instrument, double log_prior);

/// Log probability of the likeliest move, the same note again: 0.45.
inline constexpr double likeliest_move_log_prior = -0.8;

/// Log probability that the hold after one of note `from` is of note `to`: the same again, a neighbour in the scale,
/// or a jump.
double move_log_prior(const ScaleModel& model, int from, int to);

/// move_log_prior for all pairs of a range of notes: naming asks for the same few hundred pairs some million times.
class MovePriors {
 public:
  MovePriors(const ScaleModel& model, int lowest_midi, int highest_midi);
  /// Both notes must be in the range.
  double operator()(int from, int to) const {
    return table_[static_cast<std::size_t>((from - lowest_midi_) * notes_ + to - lowest_midi_)];
  }

 private:
  int lowest_midi_, notes_;
  std::vector<double> table_;
};

/// Log probability of having played just these notes: the lowest is seldom left out, nor are those between.
double coverage_log_prior(const ScaleModel& model, const std::vector<int>& played_midi);

}  // namespace windway
