// SPDX-License-Identifier: GPL-3.0-or-later
#include "scale/scale_model.hpp"

#include <algorithm>
#include <cmath>

namespace windway {
namespace {

// The priors are judgements of how scales are recorded, not measured. Nearly always one semitone's misfit in a few
// holds outweighs them all; they decide where the pitches alone cannot.
constexpr double in_scale_log_prior = -2.0;  // fingered, but not of the key: C natural on a whistle in D
constexpr double out_of_scale_log_prior = -5.0;
constexpr double own_key_log_prior = -0.7;  // a recorder played in the key of its lowest note
constexpr double other_key_log_prior = -3.8;
constexpr double lowest_left_out_log_prior = -3.0;
constexpr double note_left_out_log_prior = -0.5;
constexpr double most_left_out_log_prior = -4.0;  // a melody leaves out many at once
constexpr int semitones_of_a_chromatic_octave = 10;

constexpr std::array<double, 12> key_steps = {0, 0.5, 1, 1.5, 2, 3, 3.5, 4, 4.5, 5, 5.5, 6};

bool is_degree(double step) { return step == std::floor(step); }

/// The model of one key. `key_pitch_class` 0 = C. On six holes the tonic and the fourth degree are steady (common
/// practice, no source); the forked fingerings of a chromatic instrument follow no such rule.
ScaleModel model_in_key(const Instrument& instrument, int key_pitch_class, bool chromatic) {
  ScaleModel model;
  model.instrument = instrument;
  for (const ScaleNote& note : instrument.scale) model.in_scale[static_cast<std::size_t>(note.id.midi)] = true;
  for (int midi = 0; midi < midi_keys; ++midi) {
    const auto i = static_cast<std::size_t>(midi);
    const int above_key = midi - key_pitch_class + 12;
    const double in_octave = key_steps[static_cast<std::size_t>(above_key % 12)];
    const int octave = above_key / 12;
    model.step[i] = 7.0 * octave + in_octave;
    model.steady[i] = !chromatic && (in_octave == 0 || in_octave == 3);
    model.expected[i] = model.in_scale[i] && is_degree(in_octave);
    model.note_log_prior[i] = model.expected[i] ? 0.0 : model.in_scale[i] ? in_scale_log_prior : out_of_scale_log_prior;
  }
  return model;
}

bool is_chromatic(const Instrument& instrument) {
  std::array<bool, 12> plays{};
  for (const ScaleNote& note : instrument.scale)
    plays[static_cast<std::size_t>(((note.id.midi % 12) + 12) % 12)] = true;
  return std::count(plays.begin(), plays.end(), true) >= semitones_of_a_chromatic_octave;
}

}  // namespace

std::vector<ScaleModel> scale_models(const Instrument& instrument, double log_prior) {
  const int own_key = key_pitch_class(instrument);
  std::vector<ScaleModel> models;
  if (!is_chromatic(instrument)) {
    models.push_back(model_in_key(instrument, own_key, false));
    models.back().log_prior = log_prior;
    return models;
  }
  for (int key = 0; key < 12; ++key) {
    models.push_back(model_in_key(instrument, key, true));
    models.back().log_prior = log_prior + (key == own_key ? own_key_log_prior : other_key_log_prior);
  }
  return models;
}

double move_log_prior(const ScaleModel& model, int from, int to) {
  constexpr double same = likeliest_move_log_prior;
  constexpr double next = -1.6;    // 0.2 up, 0.2 down
  constexpr double octave = -3.6;  // the same fingering overblown
  constexpr double jump = -4.6;    // what is left, over some 15 notes
  const auto in_scale = [&](int midi) { return model.in_scale[static_cast<std::size_t>(midi)]; };
  if (!in_scale(from) || !in_scale(to)) return from == to ? same : next;  // its strangeness is in the note's own prior
  const double steps = std::abs(model.step[static_cast<std::size_t>(to)] - model.step[static_cast<std::size_t>(from)]);
  return steps == 0 ? same : steps <= 1 ? next : steps == 7 ? octave : jump;
}

MovePriors::MovePriors(const ScaleModel& model, int lowest_midi, int highest_midi)
    : lowest_midi_(lowest_midi), notes_(highest_midi - lowest_midi + 1) {
  for (int from = lowest_midi; from <= highest_midi; ++from)
    for (int to = lowest_midi; to <= highest_midi; ++to) table_.push_back(move_log_prior(model, from, to));
}

double coverage_log_prior(const ScaleModel& model, const std::vector<int>& played_midi) {
  std::array<bool, midi_keys> played{};
  for (int midi : played_midi) played[static_cast<std::size_t>(midi)] = true;
  const int highest = *std::max_element(played_midi.begin(), played_midi.end());
  const int lowest = std::clamp(model.instrument.lowest_midi, 0, midi_keys - 1);
  double left_out = 0;
  for (int midi = lowest + 1; midi < highest; ++midi)
    if (model.expected[static_cast<std::size_t>(midi)] && !played[static_cast<std::size_t>(midi)])
      left_out += note_left_out_log_prior;
  return std::max(left_out, most_left_out_log_prior) +
         (played[static_cast<std::size_t>(lowest)] ? 0.0 : lowest_left_out_log_prior);
}

}  // namespace windway
