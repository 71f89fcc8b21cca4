// SPDX-License-Identifier: GPL-3.0-or-later
#include "segmentation/take_traits.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

#include "units/order_statistics.hpp"
#include "units/units.hpp"

namespace windway {

namespace {

// Players' vibrato (common practice, no source).
constexpr double slowest_vibrato_hz = 3.5;
constexpr double fastest_vibrato_hz = 8.0;

/// The value that a share of the values lie under; they must not be none.
double quantile(std::vector<double> values, double share) {
  const auto rank = static_cast<std::size_t>(share * static_cast<double>(values.size() - 1));
  return value_of_rank(std::move(values), rank);
}

std::vector<double> of_tonal_frames(const FrameSeries& series, const std::vector<double>& values) {
  std::vector<double> tonal;
  for (std::size_t i = 0; i < values.size(); ++i)
    if (series.cents[i]) tonal.push_back(values[i]);
  return tonal;
}

/// How far the level of each frame stands off the mean of the frames about it, where the same tone sounds through them
/// all; else absent.
std::vector<std::optional<double>> level_swings_db(const FrameSeries& series) {
  constexpr double most_db = 6.0;  // beyond it the room or a gap moves the level
  constexpr double same_tone_cents = 60.0;
  const std::size_t side = series.frames_in(0.5 / slowest_vibrato_hz);
  const std::size_t n = series.cents.size();
  std::vector<std::optional<double>> swings(n);
  std::size_t unbroken = 0;  // frames in a row, up to this one, of one tone
  double sum = 0;            // of the levels of the last 2 side + 1 frames
  for (std::size_t i = 0; i < n; ++i) {
    const bool goes_on = series.cents[i] && i > 0 && series.cents[i - 1] &&
                         std::abs(*series.cents[i] - *series.cents[i - 1]) < same_tone_cents;
    unbroken = goes_on ? unbroken + 1 : 0;
    sum = goes_on ? sum + series.level_db[i] : series.level_db[i];
    if (unbroken > 2 * side) sum -= series.level_db[i - 2 * side - 1];
    if (unbroken < 2 * side) continue;
    const double mean_db = sum / static_cast<double>(2 * side + 1);
    swings[i - side] = std::clamp(series.level_db[i - side] - mean_db, -most_db, most_db);
  }
  return swings;
}

/// What the autocorrelation at a lag is at least, but for once in forty: neighbouring frames are no independent ones,
/// and of a few short notes it says little.
double least_autocorrelation(const std::vector<std::optional<double>>& values, std::size_t lag) {
  double product = 0, early = 0, late = 0, pairs = 0;
  for (std::size_t i = 0; i + lag < values.size(); ++i) {
    if (!values[i] || !values[i + lag]) continue;
    product += *values[i] * *values[i + lag];
    early += *values[i] * *values[i];
    late += *values[i + lag] * *values[i + lag];
    pairs += 1.0;
  }
  if (early <= 0 || late <= 0) return 0.0;
  return product / std::sqrt(early * late) - normal_u95_factor * std::sqrt(static_cast<double>(lag) / pairs);
}

/// Period at which the level repeats itself best; 0 where that is less than the model's share of its movement.
std::size_t vibrato_frames(const FrameSeries& series, const SegmentationModel& model) {
  const auto swings = level_swings_db(series);
  double most = model.vibrato_share;
  std::size_t period = 0;
  for (std::size_t lag = series.frames_in(1.0 / fastest_vibrato_hz); lag <= series.frames_in(1.0 / slowest_vibrato_hz);
       ++lag) {
    const double repeated = least_autocorrelation(swings, lag);
    if (repeated <= most) continue;
    most = repeated;
    period = lag;
  }
  return period;
}

/// Between loud tones, or before the first or after the last.
struct Gap {
  std::size_t frames = 0;
  std::vector<std::size_t> tonal;                   ///< of its frames
  std::optional<double> cents_before, cents_after;  ///< of the loud tones at its ends
};

std::vector<Gap> gaps_between(const FrameSeries& series, double loud_db) {
  constexpr double shortest_gap_s = 0.08;  // as long as the track's window smears a note into it, and again
  std::vector<Gap> gaps;
  Gap gap;
  for (std::size_t i = 0; i <= series.cents.size(); ++i) {
    const bool in_gap = i < series.cents.size() && !(series.cents[i] && series.level_db[i] > loud_db);
    if (in_gap) {
      ++gap.frames;
      if (series.cents[i]) gap.tonal.push_back(i);
      continue;
    }
    const auto here_cents = i < series.cents.size() ? series.cents[i] : std::nullopt;
    gap.cents_after = here_cents;
    if (gap.frames >= series.frames_in(shortest_gap_s)) gaps.push_back(gap);
    gap = Gap{0, {}, here_cents, {}};
  }
  return gaps;
}

/// Beside a note of its own pitch a tone may be that note, soft or dying away: such a gap says nothing of a whine.
bool tells_of(const Gap& gap, double cents) {
  constexpr double own_note_cents = 100.0;  // soft and hard blows of a note differ by less
  const auto is_own = [&](const std::optional<double>& note) {
    return note && std::abs(*note - cents) < own_note_cents;
  };
  return !is_own(gap.cents_before) && !is_own(gap.cents_after);
}

constexpr std::size_t least_gaps = 4;  // fewer may hold the same note by chance

/// What stands at this pitch in the gaps that can tell; absent where it is heard in fewer than half of them.
std::optional<ForeignTone> foreign_at(const FrameSeries& series, const std::vector<Gap>& gaps, double cents,
                                      double within_cents) {
  constexpr double normal_80_percent = 2.5631;  // from the 10th percentile to the 90th, in SD
  static constexpr double least_sd = 0.5;       // cents and dB: the track's own
  std::size_t telling = 0, heard_in = 0;
  std::vector<double> levels_db, pitches_cents;
  for (const Gap& gap : gaps) {
    if (!tells_of(gap, cents)) continue;
    ++telling;
    const std::size_t before = levels_db.size();
    for (const std::size_t i : gap.tonal) {
      if (std::abs(*series.cents[i] - cents) > within_cents) continue;
      levels_db.push_back(series.level_db[i]);
      pitches_cents.push_back(*series.cents[i]);
    }
    heard_in += levels_db.size() > before + 1;
  }
  if (telling < least_gaps || 2 * heard_in <= telling) return std::nullopt;
  const auto sd = [](const std::vector<double>& values) {
    return std::max(least_sd, (quantile(values, 0.9) - quantile(values, 0.1)) / normal_80_percent);
  };
  return ForeignTone{quantile(pitches_cents, 0.5), sd(pitches_cents), quantile(levels_db, 0.5), sd(levels_db)};
}

std::vector<ForeignTone> foreign_tones(const FrameSeries& series, double loud_db, double within_cents) {
  const std::vector<Gap> gaps = gaps_between(series, loud_db);
  std::vector<ForeignTone> tones;
  std::vector<double> cents;
  for (const Gap& gap : gaps)
    for (const std::size_t i : gap.tonal) cents.push_back(*series.cents[i]);
  std::sort(cents.begin(), cents.end());
  for (auto from = cents.begin(); from != cents.end();) {
    const auto to = std::upper_bound(from, cents.end(), *from + within_cents);
    const bool dense = static_cast<std::size_t>(to - from) >= std::max(least_gaps, gaps.size() / 2);
    const auto tone = dense ? foreign_at(series, gaps, *(from + (to - from) / 2), within_cents) : std::nullopt;
    if (tone) tones.push_back(*tone);
    if (tone) {
      from = std::upper_bound(to, cents.end(), tone->cents + within_cents);
    } else {
      from += dense ? (to - from + 1) / 2 : 1;
    }
  }
  return tones;
}

}  // namespace

std::optional<TakeTraits> traits_of(const FrameSeries& series, const SegmentationModel& model) {
  const std::vector<double> levels_db = of_tonal_frames(series, series.level_db);
  if (levels_db.empty()) return std::nullopt;
  TakeTraits traits;
  traits.loud_db = quantile(levels_db, 0.9);
  const double noise_db = quantile(of_tonal_frames(series, series.noise_db), 0.5);
  traits.breath_heard = noise_db - series.quiet_noise_db > breath_heard_db;
  traits.vibrato_frames = vibrato_frames(series, model);
  traits.foreign = foreign_tones(series, traits.loud_db - 0.5 * model.level_range_db, model.pitch_sd_cents);
  return traits;
}

}  // namespace windway
