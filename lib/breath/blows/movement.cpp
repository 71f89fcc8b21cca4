// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/blows/movement.hpp"

#include <cmath>
#include <map>
#include <utility>

#include "breath/blows/breath_strength.hpp"
#include "breath/blows/pitch_curve.hpp"

namespace windway {
namespace {

/// How much of `shape`, which has no mean, is in `values`.
double share_of(const std::vector<double>& shape, const std::vector<double>& values) {
  double product = 0, squares = 0;
  for (std::size_t i = 0; i < shape.size(); ++i) {
    product += shape[i] * values[i];
    squares += shape[i] * shape[i];
  }
  return squares > 0 ? product / squares : 0.0;
}

std::vector<double> about_mean(std::vector<double> values) {
  double mean = 0;
  for (double v : values) mean += v / static_cast<double>(values.size());
  for (double& v : values) v -= mean;
  return values;
}

double moved_db(const PitchCurve& curve, const std::vector<double>& shape) {
  return in_level_db(share_of(shape, curve.level_db), share_of(shape, curve.noise_db), share_of(shape, curve.cents));
}

Movement movement_of(const NamedHold& hold) {
  Movement movement;
  movement.length_s = hold.hold.end_s - hold.hold.start_s;
  movement.could_be_swell = hold.in_scale && is_long_enough_for_a_swell(hold);
  const PitchCurve curve = pitch_curve(hold);
  if (curve.time_s.size() < 3) return movement;
  const double first_s = curve.time_s.front(), length_s = curve.time_s.back() - first_s;
  std::vector<double> rise, bulge;
  for (double time_s : curve.time_s) {
    rise.push_back((time_s - first_s) / length_s);
    bulge.push_back(1.0 - std::abs(2.0 * rise.back() - 1.0));
  }
  movement.rise_db = moved_db(curve, about_mean(std::move(rise)));
  movement.bulge_db = moved_db(curve, about_mean(std::move(bulge)));
  return movement;
}

struct Means {
  double level_db = 0, noise_db = 0, cents = 0;
};

Means means_of(const Naming& naming, const std::vector<std::size_t>& holds) {
  Means means;
  const double n = static_cast<double>(holds.size());
  for (std::size_t h : holds) {
    means.level_db += naming.holds[h].hold.level_db / n;
    means.noise_db += naming.holds[h].hold.noise_db / n;
    means.cents += deviation_as_brought_cents(naming.holds[h]) / n;
  }
  return means;
}

}  // namespace

std::vector<Movement> hold_movements(const Naming& naming) {
  std::map<std::pair<int, NoteId>, std::vector<std::size_t>> by_note;
  std::vector<Movement> movements;
  for (std::size_t h = 0; h < naming.holds.size(); ++h) {
    movements.push_back(movement_of(naming.holds[h]));
    if (naming.holds[h].in_scale) by_note[{naming.holds[h].hold.take, naming.holds[h].note}].push_back(h);
  }
  for (const auto& [note, holds] : by_note) {
    if (holds.size() < 2) continue;
    const Means note_means = means_of(naming, holds);
    for (std::size_t h : holds) {
      const Means own = means_of(naming, {h});
      movements[h].over_note_db = in_level_db(own.level_db - note_means.level_db, own.noise_db - note_means.noise_db,
                                              own.cents - note_means.cents);
    }
  }
  return movements;
}

}  // namespace windway
