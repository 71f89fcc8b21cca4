// SPDX-License-Identifier: GPL-3.0-or-later
#include "segmentation/frame_costs.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace windway {

namespace {

constexpr double all_pitches_cents = 6000.0;   // a frame's pitch may lie anywhere in so many
constexpr double interruption_within_s = 0.2;  // longer without breath is a gap
constexpr double most_cost = 6.0;              // of one cue in one frame: beyond it the frame is an outlier

double cost_of(double share) { return -std::log(share); }
double half_square(double deviation) { return std::min(most_cost, 0.5 * deviation * deviation); }

/// Log of the density of a normal variable at its middle, against an even one over `range`.
double log_peak(double sd, double range) { return std::log(range / (sd * std::sqrt(2.0 * std::numbers::pi))); }

/// Distance from the nearest of these places.
float from_nearest(float cents, const std::array<float, 5>& places_cents) {
  float nearest = std::abs(cents - places_cents[0]);
  for (std::size_t i = 1; i < places_cents.size(); ++i) nearest = least(nearest, std::abs(cents - places_cents[i]));
  return nearest;
}

/// Means over one period of vibrato, of the frames that have a value.
std::vector<double> averaged(const std::vector<double>& values, const std::vector<bool>& valid, std::size_t period) {
  if (period == 0) return values;
  const std::size_t half = period / 2;
  std::vector<double> sum{0.0}, count{0.0};
  for (std::size_t i = 0; i < values.size(); ++i) {
    sum.push_back(sum.back() + (valid[i] ? values[i] : 0.0));
    count.push_back(count.back() + (valid[i] ? 1.0 : 0.0));
  }
  std::vector<double> means(values);
  for (std::size_t i = 0; i < values.size(); ++i) {
    const std::size_t from = i - std::min(i, half), to = std::min(values.size(), i + half + 1);
    if (count[to] > count[from]) means[i] = (sum[to] - sum[from]) / (count[to] - count[from]);
  }
  return means;
}

/// Least-squares fall about each frame, per second; 0 where fewer than six frames in ten have a value.
std::vector<float> falls_per_s(const std::vector<double>& values, const std::vector<bool>& valid, std::size_t side,
                               double hop_s) {
  std::vector<float> falls(values.size(), 0.0F);
  for (std::size_t i = 0; i < values.size(); ++i) {
    const std::size_t from = i - std::min(i, side), to = std::min(values.size(), i + side + 1);
    double n = 0, x = 0, y = 0, xx = 0, xy = 0;
    for (std::size_t k = from; k < to; ++k) {
      if (!valid[k]) continue;
      const double t = static_cast<double>(k) - static_cast<double>(i), v = values[k] - values[i];
      n += 1.0, x += t, y += v, xx += t * t, xy += t * v;
    }
    const double spread = xx - x * x / std::max(n, 1.0);
    if (10.0 * n >= 6.0 * static_cast<double>(to - from) && spread > 0)
      falls[i] = static_cast<float>(-(xy - x * y / n) / spread / hop_s);
  }
  return falls;
}

/// True where the breath noise lies clear under the loudest within a blow's length.
std::vector<bool> breath_stops(const std::vector<double>& noise_db, std::size_t side) {
  std::vector<bool> stops;
  for (std::size_t i = 0; i < noise_db.size(); ++i) {
    const auto from = noise_db.begin() + static_cast<long>(i - std::min(i, side));
    const auto to = noise_db.begin() + static_cast<long>(std::min(noise_db.size(), i + side + 1));
    stops.push_back(*std::max_element(from, to) - noise_db[i] > breath_heard_db);
  }
  return stops;
}

}  // namespace

CostModel::CostModel(const FrameSeries& series, const TakeTraits& traits, const SegmentationModel& model)
    : series_(&series),
      traits_(&traits),
      model_(model),
      often_(cost_of(1.0 - model.untonal_share)),
      seldom_(cost_of(model.untonal_share)) {
  std::vector<bool> tonal;
  for (const auto& cents : series.cents) tonal.push_back(cents.has_value());
  const std::vector<bool> all(tonal.size(), true);
  const auto level_db = averaged(series.level_db, tonal, traits.vibrato_frames);
  const auto noise_db = averaged(series.noise_db, all, traits.vibrato_frames);
  const std::size_t side = series.frames_in(series.window_s);
  fall_db_per_s_ = falls_per_s(level_db, tonal, side, series.hop_s);
  noise_fall_db_per_s_ = falls_per_s(noise_db, all, side, series.hop_s);
  breath_stops_ = breath_stops(noise_db, series.frames_in(interruption_within_s));
}

CostModel CostModel::with_echo_fall(double db_per_s) const {
  CostModel other = *this;
  other.model_.echo_fall_db_per_s = db_per_s;
  return other;
}

double CostModel::heard_share(std::size_t frame) const {
  constexpr double sure_within_db = 1.0;  // by which the noise of single frames scatters
  if (!traits_->breath_heard) return 0.0;
  const double over_db = series_->noise_db[frame] - series_->quiet_noise_db - breath_heard_db;
  return 1.0 / (1.0 + std::exp(-over_db / sure_within_db));
}

std::optional<double> CostModel::noise_fall_db_per_s(std::size_t frame) const {
  return heard_share(frame) > 0.5 ? std::optional<double>(noise_fall_db_per_s_[frame]) : std::nullopt;
}

/// That a blown note's level and noise move as they do about this frame: with the breath, or because the room's echoes
/// meet a tone whose breath goes on evenly.
double CostModel::breath_cost(std::size_t frame) const {
  const double fall = fall_db_per_s_[frame];
  double faint = 0, falling = 0;
  if (series_->cents[frame]) {
    faint = half_square(std::max(0.0, traits_->loud_db - model_.level_range_db - series_->level_db[frame]));
    falling = half_square(std::max(0.0, fall - model_.fall_db_per_s) / model_.fall_sd_db_per_s);
  }
  if (!traits_->breath_heard) return faint + falling;
  const double heard = heard_share(frame), noise_fall = noise_fall_db_per_s_[frame];
  const double sd = model_.noise_fall_sd_db_per_s + model_.noise_ratio_sd * std::abs(fall);
  const double by_breath = falling + half_square((noise_fall - model_.noise_ratio * fall) / sd);
  const double by_room = model_.fade + half_square(noise_fall / model_.noise_fall_sd_db_per_s);
  return heard * std::min(by_breath, by_room) + (1.0 - heard) * (faint + falling + model_.unheard);
}

double CostModel::echo_cost(std::size_t frame) const {
  const bool tonal = series_->cents[frame].has_value();
  double cost = tonal ? often_ : seldom_;
  if (!tonal) return cost;
  const double fall = fall_db_per_s_[frame];
  cost += half_square((fall - model_.echo_fall_db_per_s) / model_.echo_fall_sd_db_per_s);
  const double off = (noise_fall_db_per_s_[frame] - model_.echo_fall_db_per_s) / model_.noise_fall_sd_db_per_s;
  return cost + heard_share(frame) * half_square(off);
}

double CostModel::foreign_cost(std::size_t frame) const {
  double least = most_cost;
  if (!series_->cents[frame]) return least;
  for (const ForeignTone& tone : traits_->foreign) {
    const double off_cents = (*series_->cents[frame] - tone.cents) / tone.cents_sd;
    const double off_db = (series_->level_db[frame] - tone.level_db) / tone.level_sd_db;
    least =
        std::min(least, 0.5 * (off_cents * off_cents + off_db * off_db) - log_peak(tone.cents_sd, all_pitches_cents) -
                            log_peak(tone.level_sd_db, model_.level_range_db));
  }
  return least;
}

void CostModel::add_pitch(std::size_t frame, double breath, const PitchCells& cells, FrameCosts& costs) const {
  constexpr float octave_cents = 1200.0F, twelfth_cents = 1901.955F, two_octaves_cents = 2400.0F;
  constexpr std::array higher_harmonics_cents = {two_octaves_cents, 2786.314F, 3101.955F, 3600.0F, 3986.314F};
  const auto share = static_cast<float>(model_.independent_share);
  const auto outlier = static_cast<float>(cost_of(model_.pitch_outlier_share));
  const auto peak = static_cast<float>(log_peak(model_.pitch_sd_cents, all_pitches_cents));
  const auto per_cent = static_cast<float>(1.0 / model_.pitch_sd_cents);
  const auto one_of_three = static_cast<float>(cost_of(1.0 / 3.0));
  const auto cents = static_cast<float>(*series_->cents[frame]);
  const auto slipped = static_cast<float>(model_.slipped - model_.interrupted + model_.independent_share * breath);
  const auto density = [&](float off) { return 0.5F * off * off * per_cent * per_cent - peak; };
  const float* const __restrict__ cell_cents = cells.cents.data();
  float *const __restrict__ blown = costs.blown.data(), *const __restrict__ interrupted = costs.interrupted.data(),
                            *const __restrict__ echo = costs.echo.data();
  for (std::size_t cell = 0; cell < cells.count(); ++cell) {
    const float above = cents - cell_cents[cell], off = std::abs(above);
    const float pitch = density(off);
    blown[cell] += share * least(outlier, pitch);
    // In another register, or at a harmonic of that: so short a tone seldom shows which is its fundamental.
    const float register_off = least(std::abs(off - octave_cents), std::abs(off - twelfth_cents));
    const float slip = density(least(register_off, from_nearest(above, higher_harmonics_cents)));
    // A tone at its own pitch is not interrupted.
    interrupted[cell] += least(0.0F, slipped + share * slip) - least(0.0F, 0.5F * share * (pitch - peak));
    // An echo may keep a harmonic longer than its fundamental.
    const float harmonic = least(least(std::abs(above - octave_cents), std::abs(above - twelfth_cents)),
                                 std::abs(above - two_octaves_cents));
    echo[cell] += share * least(least(outlier, pitch), one_of_three + density(harmonic));
  }
}

void CostModel::find(std::size_t frame, const PitchCells& cells, FrameCosts& costs) const {
  const double share = model_.independent_share;
  const bool tonal = series_->cents[frame].has_value();
  const bool stops = traits_->breath_heard && breath_stops_[frame];
  const double breath = breath_cost(frame);
  const double blown = (tonal ? often_ : seldom_) + breath;
  costs.blown.assign(cells.count(), static_cast<float>(share * blown));
  costs.echo.assign(cells.count(), static_cast<float>(share * echo_cost(frame)));
  costs.interrupted.assign(cells.count(),
                           static_cast<float>(model_.interrupted + (stops ? share * model_.unheard : 0.0)));
  if (tonal) add_pitch(frame, breath, cells, costs);
  costs.unpitched = {static_cast<float>(share * (tonal ? seldom_ : often_)),
                     static_cast<float>(share * (tonal ? often_ : seldom_)),
                     static_cast<float>(share * foreign_cost(frame))};
}

}  // namespace windway
