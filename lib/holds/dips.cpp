// SPDX-License-Identifier: GPL-3.0-or-later
#include "holds/dips.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <deque>
#include <utility>

#include "units/order_statistics.hpp"

namespace windway {

namespace {

constexpr double dip_db = 8.0;  // under both sides: the gap between two blows, filled by the room
constexpr double dip_noise_with_tone_db = 2.5;
constexpr double dip_noise_db = 6.0;  // noise alone scatters by 2 dB from frame to frame
constexpr double dip_side_s = 0.5;
constexpr double dip_holds_s = 0.08;  // longer than the chiff of an attack
constexpr double tail_db = 10.0;      // under the note before, and its breath noise tail_noise_db: only an echo is left
constexpr double tail_noise_db = 12.0;
constexpr double same_note_cents = 85.0;  // nearer than the semitone above, blown softly and so some 15 cents flat
constexpr double deeper_gap_db = 8.0;
constexpr double echo_gap_db = 4.0;         // its noise dies away evenly, but for what it scatters by
constexpr std::size_t note_gap_frames = 3;  // that are not tonal, within one note's echo

/// Frames about frame i, as far as a side of a dip reaches.
struct Sides {
  std::size_t i = 0;
  std::size_t first = 0;
  std::size_t last = 0;  ///< one past the last
};

/// A series about the middle frame: does that lie deeper than so much under what a side reaches for `holds` frames and
/// one more? They are counted; sorting them to know the depth itself would take ten times as long.
struct Valley {
  const std::vector<double>& values_db;
  Sides sides;
  std::size_t holds;

  bool under_before(double depth_db) const { return is_under(sides.first, sides.i, depth_db); }
  bool under_after(double depth_db) const { return is_under(sides.i + 1, sides.last, depth_db); }
  bool under_both(double depth_db) const { return under_before(depth_db) && under_after(depth_db); }
  bool under_either(double depth_db) const { return under_before(depth_db) || under_after(depth_db); }

 private:
  bool is_under(std::size_t first, std::size_t last, double depth_db) const {
    const double here_db = values_db[sides.i];
    const auto from = values_db.begin();
    const auto higher = std::count_if(from + static_cast<long>(first), from + static_cast<long>(last),
                                      [&](double db) { return db - here_db > depth_db; });
    return static_cast<std::size_t>(higher) > holds;
  }
};

/// Is the pitch a harmonic of the other? An echo may keep one longer than the fundamental.
bool is_harmonic(double cents, double of_cents) {
  constexpr std::array<double, 4> harmonics_cents = {1200.0, 1902.0, 2400.0, 2786.3};  // the second to the fifth
  return std::ranges::any_of(harmonics_cents,
                             [&](double h) { return std::abs(cents - of_cents - h) < same_note_cents; });
}

/// The part of a frame's sides in which its own note sounds on: not beyond a gap deeper than the frame itself lies.
Sides own_note(const FrameSeries& series, const Sides& sides) {
  const double here_cents = *series.cents[sides.i];
  const double here_db = series.noise_db[sides.i];
  const auto goes_on = [&](std::size_t k) {
    if (!series.cents[k] || series.noise_db[k] <= here_db - deeper_gap_db) return false;
    if (std::abs(*series.cents[k] - here_cents) < same_note_cents) return true;
    return k < sides.i && series.noise_db[k] > here_db - echo_gap_db && is_harmonic(here_cents, *series.cents[k]);
  };
  Sides own{sides.i, sides.i, sides.i + 1};
  for (std::size_t k = sides.i; k > sides.first && own.first - k < note_gap_frames; --k) {
    if (goes_on(k - 1)) own.first = k - 1;
  }
  for (std::size_t k = sides.i + 1; k < sides.last && k - own.last < note_gap_frames; ++k) {
    if (goes_on(k)) own.last = k + 1;
  }
  return own;
}

/// The greatest of the values up to `side` before each, and itself: in linear time, with the queue of those that may
/// still become the greatest.
template <typename Iterator>
std::vector<double> greatest_before(Iterator from, Iterator to, std::size_t side) {
  std::vector<double> greatest;
  std::deque<std::pair<std::size_t, double>> queue;
  std::size_t i = 0;
  for (auto value = from; value != to; ++value, ++i) {
    while (!queue.empty() && queue.back().second <= *value) queue.pop_back();
    queue.emplace_back(i, *value);
    if (queue.front().first + side < i) queue.pop_front();
    greatest.push_back(queue.front().second);
  }
  return greatest;
}

/// No less than the depth of each frame's Valley, and quickly.
struct MostDepth {
  std::vector<double> before_db, least_db;

  MostDepth(const std::vector<double>& values_db, std::size_t side)
      : before_db(greatest_before(values_db.begin(), values_db.end(), side)),
        least_db(greatest_before(values_db.rbegin(), values_db.rend(), side)) {
    std::reverse(least_db.begin(), least_db.end());
    for (std::size_t i = 0; i < values_db.size(); ++i) {
      before_db[i] -= values_db[i];
      least_db[i] = std::min(before_db[i], least_db[i] - values_db[i]);
    }
  }
};

/// Does the breath noise of the held notes stand clear of the noise between them?
bool breath_is_heard(const FrameSeries& series) {
  std::vector<double> tonal;
  for (std::size_t i = 0; i < series.noise_db.size(); ++i) {
    if (series.cents[i]) tonal.push_back(series.noise_db[i]);
  }
  return !tonal.empty() && *median_of(tonal) - series.quiet_noise_db > breath_heard_db;
}

/// Is frame i where a room fills the time between two blows, or after the last of them? A soft note between louder ones
/// is no dip: it must lie as far under what its own pitch has just been, or is about to be.
bool is_dip(const FrameSeries& series, const Sides& sides, std::size_t holds, bool breath_heard) {
  const Valley noise{series.noise_db, sides, holds};
  const Valley level{series.level_db, sides, holds};
  const bool noise_may_dip = noise.under_both(dip_noise_db);
  const bool tone_may_dip = level.under_both(dip_db);
  const bool may_be_tail = noise.under_before(tail_noise_db) && level.under_before(tail_db);
  // Within its own note a frame lies no deeper: most are settled here.
  if (!noise_may_dip && !tone_may_dip && !may_be_tail) return false;
  const Sides own = own_note(series, sides);
  const Valley own_noise{series.noise_db, own, holds};
  const Valley own_level{series.level_db, own, holds};
  const bool noise_dips = noise_may_dip && own_noise.under_either(dip_noise_db);
  const bool tone_dips = tone_may_dip && own_level.under_either(dip_db);
  if (!breath_heard) return tone_dips;
  return noise_dips || (tone_dips && noise.under_both(dip_noise_with_tone_db)) ||
         (own_noise.under_before(tail_noise_db) && own_level.under_before(tail_db));
}

}  // namespace

std::vector<bool> in_dip(const FrameSeries& series) {
  const auto side = static_cast<std::size_t>(std::lround(dip_side_s / series.hop_s));
  const auto holds = static_cast<std::size_t>(std::lround(dip_holds_s / series.hop_s));
  const bool breath_heard = breath_is_heard(series);
  const MostDepth level(series.level_db, side);
  const MostDepth noise(series.noise_db, side);
  std::vector<bool> dip(series.level_db.size(), false);
  for (std::size_t i = 0; i < dip.size(); ++i) {
    const bool may_dip = level.least_db[i] > dip_db || noise.least_db[i] > dip_noise_db;
    const bool may_be_tail = noise.before_db[i] > tail_noise_db && level.before_db[i] > tail_db;
    if (!series.cents[i] || (!may_dip && !may_be_tail)) continue;
    dip[i] = is_dip(series, {i, i - std::min(i, side), std::min(dip.size(), i + 1 + side)}, holds, breath_heard);
  }
  return dip;
}

}  // namespace windway
