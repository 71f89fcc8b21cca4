// SPDX-License-Identifier: GPL-3.0-or-later
#include "partner/implied_a4.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <map>

#include "statistics/random_effects.hpp"
#include "statistics/robust_centre.hpp"
#include "units/coverage_factor.hpp"
#include "units/order_statistics.hpp"
#include "units/units.hpp"

namespace windway {

namespace {

constexpr double octave_cents = 1200.0;
constexpr double semitone_cents = 100.0;

double variance_of(double u95_cents) {
  constexpr double least_cents = 1e-4;  // no clock is better
  const double sd = std::max(u95_cents, least_cents) / normal_u95_factor;
  return sd * sd;
}

/// Middle of the offsets from the nearest semitone, taken round the circle of a semitone.
double common_offset_cents(const std::vector<NotePitch>& pitches, double a4_hz) {
  std::complex<double> sum = 0;
  std::vector<double> offsets;
  for (const NotePitch& pitch : pitches)
    sum += std::polar(1.0, full_turn_rad * cents_between(a4_hz, pitch.hz) / semitone_cents);
  const double about = std::arg(sum) / full_turn_rad * semitone_cents;
  for (const NotePitch& pitch : pitches) {
    const double cents = cents_between(a4_hz, pitch.hz) - about;
    offsets.push_back(cents - semitone_cents * std::round(cents / semitone_cents));
  }
  return about + median_of(offsets).value_or(0.0);
}

/// What all soundings of one key say together.
struct KeyMean {
  double cents = 0;
  double variance = 0;
  bool is_far_off = false;
};

KeyMean mean_of_key(const std::vector<KeyMean>& soundings) {
  double weights = 0, sum = 0;
  for (const KeyMean& one : soundings) {
    weights += 1.0 / one.variance;
    sum += one.cents / one.variance;
  }
  return {sum / weights, 1.0 / weights, false};
}

std::map<int, KeyMean> key_means(const std::vector<NamedPitch>& notes, const std::vector<NotePitch>& pitches) {
  std::map<int, std::vector<KeyMean>> soundings;
  for (std::size_t i = 0; i < notes.size(); ++i)
    soundings[notes[i].midi].push_back({notes[i].cents, variance_of(pitches[i].u95_cents), false});
  std::map<int, KeyMean> means;
  for (const auto& [midi, of_key] : soundings) means[midi] = mean_of_key(of_key);
  return means;
}

/// Marks keys far off the middle of all: a string that has slipped.
void mark_far_off(std::map<int, KeyMean>& keys) {
  constexpr std::size_t fewest_keys = 4;
  constexpr double least_cents = 6.0;    // a tuner may be a cent or two off (common practice, no source)
  constexpr double most_scatters = 6.0;  // of the middle half of them, a normal distribution's SDs
  if (keys.size() < fewest_keys) return;
  std::vector<double> cents;
  for (const auto& [midi, key] : keys) cents.push_back(key.cents);
  const RobustCentre centre = *robust_centre(cents);
  const double limit = std::max(least_cents, most_scatters * centre.scaled_mad);
  for (auto& [midi, key] : keys)
    key.is_far_off = std::abs(key.cents - centre.median) > limit + normal_u95_factor * std::sqrt(key.variance);
}

/// Weighted mean with `added` variance for each, its own variance, and the weighted sum of squares about it.
struct Mean {
  double cents = 0;
  double variance = 0;
  double squares = 0;
};

Mean weighted_mean(const std::vector<KeyMean>& keys, double added) {
  double weights = 0, sum = 0;
  for (const KeyMean& key : keys) {
    weights += 1.0 / (key.variance + added);
    sum += key.cents / (key.variance + added);
  }
  Mean mean{sum / weights, 1.0 / weights, 0.0};
  for (const KeyMean& key : keys)
    mean.squares += (key.cents - mean.cents) * (key.cents - mean.cents) / (key.variance + added);
  return mean;
}

/// Variance between keys that their own does not explain. How well tuners agree with themselves counts as much as one
/// more key, so that two or three that happen to agree are not taken for proof (common practice, no source).
double scatter_variance(const std::vector<KeyMean>& keys) {
  constexpr double usual_cents = 0.8;
  const auto squares = [&](double v) {
    return weighted_mean(keys, v).squares + usual_cents * usual_cents / (v + 1e-12);
  };
  return added_variance(squares, static_cast<double>(keys.size()));
}

}  // namespace

std::vector<NamedPitch> named_pitches(const std::vector<NotePitch>& pitches, const Tuning& guess) {
  constexpr int a4_midi = 69;
  const double offset = common_offset_cents(pitches, guess.a4_hz);
  std::vector<NamedPitch> named;
  for (const NotePitch& pitch : pitches) {
    const double cents = cents_between(guess.a4_hz, pitch.hz) - offset;
    const int near = a4_midi + static_cast<int>(std::lround(cents / (octave_cents / 12.0)));
    NamedPitch best{near, 1e9};
    for (int midi = near - 1; midi <= near + 1; ++midi) {  // a temperament may move the border between two notes
      const double off = cents_between(target_hz(midi, guess), pitch.hz);
      if (std::abs(off - offset) < std::abs(best.cents - offset)) best = {midi, off};
    }
    named.push_back(best);
  }
  return named;
}

MeanDeviation mean_deviation(const std::vector<NamedPitch>& notes, const std::vector<NotePitch>& pitches) {
  std::map<int, KeyMean> by_key = key_means(notes, pitches);
  mark_far_off(by_key);
  std::vector<KeyMean> keys;
  for (const auto& [midi, key] : by_key)
    if (!key.is_far_off) keys.push_back(key);
  const double added = scatter_variance(keys);
  const Mean mean = weighted_mean(keys, added);
  const double factor = keys.size() > 1 ? u95_factor(static_cast<double>(keys.size())) : normal_u95_factor;
  MeanDeviation result{mean.cents, factor * std::sqrt(mean.variance), std::sqrt(added), {}};
  for (const NamedPitch& note : notes) result.is_far_off.push_back(by_key.at(note.midi).is_far_off);
  return result;
}

}  // namespace windway
