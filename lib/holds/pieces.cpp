// SPDX-License-Identifier: GPL-3.0-or-later
#include "holds/pieces.hpp"

#include <algorithm>
#include <cmath>
#include <deque>
#include <functional>
#include <utility>

#include "units/order_statistics.hpp"
#include "units/units.hpp"

namespace windway {

namespace {

constexpr double no_level_db = -200.0;
constexpr double least_clarity = 0.35;      // held notes show 0.7 and more in loud breath noise, noise alone 0.1
constexpr double under_loudest_db = 50.0;   // a tone this far under the take's loudest is a tail or a far sound
constexpr double step_cents = 45.0;         // in one hop: a change of note, not of blowing
constexpr double note_change_cents = 70.0;  // over note_change_s: likewise, where the window smears the step
constexpr double new_note_cents = 20.0;     // a frame this near to the new note belongs to it
constexpr double plateau_change_cents =
    24.0;                                    // between two steady stretches of 0.1 s: blowing moves a note more slowly
constexpr double plateau_cents_most = 12.0;  // the middle half of a steady stretch ranges over this much at most
constexpr double vibrato_period_s = 0.2;
constexpr double moving_cents = 5.0;  // in 0.05 s: what moves slower there stands still
constexpr double note_change_s = 0.06;
constexpr double dip_db = 8.0;  // under both sides: the gap between two blows, filled by the room
constexpr double dip_noise_with_tone_db = 2.5;
constexpr double dip_noise_db = 6.0;  // noise alone scatters by 2 dB from frame to frame
constexpr double dip_side_s = 0.5;
constexpr double dip_holds_s = 0.08;  // longer than the chiff of an attack
constexpr double breath_heard_db = 6.0;
constexpr double same_pitch_cents = 45.0;
constexpr double short_break_s = 0.11;      // a cut or tap of 50 ms as the window smears it
constexpr double register_break_s = 0.26;   // a slip into another register
constexpr double register_break_db = 15.0;  // and it goes on sounding about as loud
constexpr double register_apart_cents = 600.0;
constexpr double same_blow_noise_db = 4.0;  // on both sides of a cut the breath is the same
constexpr double least_span_s = 0.05;

std::size_t frames_in(double seconds, const FrameSeries& series) {
  return static_cast<std::size_t>(std::lround(seconds / series.hop_s));
}

/// What a series falls to between the notes: its 5th percentile.
double quiet_of(std::vector<double> values) {
  if (values.empty()) return no_level_db;
  const auto quiet = values.begin() + static_cast<long>(values.size() / 20);
  std::nth_element(values.begin(), quiet, values.end());
  return *quiet;
}

/// How far a series lies at frame i under both its sides; a side is what it reaches for dip_holds_s at least.
double dip_depth_db(const std::vector<double>& values_db, std::size_t i, std::size_t side, std::size_t holds) {
  const auto reached = [&](std::size_t first, std::size_t last) {
    std::vector<double> part(values_db.begin() + static_cast<long>(first), values_db.begin() + static_cast<long>(last));
    if (part.size() <= holds) return values_db[i];
    std::nth_element(part.begin(), part.begin() + static_cast<long>(holds), part.end(), std::greater<>());
    return part[holds];
  };
  const std::size_t first = i - std::min(i, side);
  const std::size_t last = std::min(values_db.size(), i + 1 + side);
  return std::min(reached(first, i), reached(i + 1, last)) - values_db[i];
}

/// No less than dip_depth_db at each frame, and quickly: by the greatest value on either side (in linear time, with the
/// queue of those that may still become the greatest).
std::vector<double> most_depth_db(const std::vector<double>& values_db, std::size_t side) {
  const auto greatest_before = [side](auto from, auto to) {
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
  };
  std::vector<double> depth = greatest_before(values_db.begin(), values_db.end());
  std::vector<double> after = greatest_before(values_db.rbegin(), values_db.rend());
  for (std::size_t i = 0; i < depth.size(); ++i) {
    depth[i] = std::min(depth[i], after[after.size() - 1 - i]) - values_db[i];
  }
  return depth;
}

/// Does the breath noise of the held notes stand clear of the noise between them?
bool breath_is_heard(const FrameSeries& series) {
  std::vector<double> tonal;
  for (std::size_t i = 0; i < series.noise_db.size(); ++i) {
    if (series.cents[i]) tonal.push_back(series.noise_db[i]);
  }
  return !tonal.empty() && *median_of(tonal) - quiet_of(series.noise_db) > breath_heard_db;
}

/// Marks the frames between two blows that a room fills with the first one's sound: the tone dips, and the breath noise
/// with it. Noise decays smoothly; a tone may by itself dip or swell as its echoes meet.
std::vector<bool> in_dip(const FrameSeries& series) {
  const std::size_t side = frames_in(dip_side_s, series);
  const std::size_t holds = frames_in(dip_holds_s, series);
  const bool breath_heard = breath_is_heard(series);
  const std::vector<double> level_most_db = most_depth_db(series.level_db, side);
  const std::vector<double> noise_most_db = most_depth_db(series.noise_db, side);
  std::vector<bool> dip(series.level_db.size(), false);
  for (std::size_t i = 0; i < dip.size(); ++i) {
    if (!series.cents[i] || (level_most_db[i] <= dip_db && noise_most_db[i] <= dip_noise_db)) continue;
    const double noise_depth_db = dip_depth_db(series.noise_db, i, side, holds);
    const double level_depth_db = dip_depth_db(series.level_db, i, side, holds);
    const bool tone_dips = level_depth_db > dip_db && (!breath_heard || noise_depth_db > dip_noise_with_tone_db);
    dip[i] = tone_dips || (breath_heard && noise_depth_db > dip_noise_db);
  }
  return dip;
}

bool changes_note(const FrameSeries& series, std::size_t i) {
  const std::size_t half = frames_in(note_change_s / 2.0, series);
  if (i < half || i + half >= series.cents.size()) return false;
  const auto before = series.cents[i - half];
  const auto here = series.cents[i];
  const auto after = series.cents[i + half];
  return before && here && after && std::abs(*after - *before) > note_change_cents &&
         std::abs(*after - *here) > new_note_cents;
}

/// Median of a steady stretch of pitch: empty where it is not tonal throughout or where its middle half moves.
std::optional<double> plateau_cents(const FrameSeries& series, std::size_t first, std::size_t last) {
  std::vector<double> sorted;
  for (std::size_t i = first; i <= last; ++i) {
    if (!series.cents[i]) return std::nullopt;
    sorted.push_back(*series.cents[i]);
  }
  std::sort(sorted.begin(), sorted.end());
  const std::size_t quarter = sorted.size() / 4;
  if (sorted[sorted.size() - 1 - quarter] - sorted[quarter] > plateau_cents_most) return std::nullopt;
  return sorted[sorted.size() / 2];
}

/// A change of note of less than note_change_cents: a hard blow sharp, then the next note soft and flat, in an echo.
bool changes_plateau(const FrameSeries& series, std::size_t i) {
  const std::size_t near = frames_in(0.03, series);
  const std::size_t far = frames_in(0.13, series);
  if (i < far || i + far >= series.cents.size() || !series.cents[i]) return false;
  const auto sides_apart = [&](double before, double after) { return std::abs(after - before) > plateau_change_cents; };
  const auto just_before = series.cents[i - near];
  const auto just_after = series.cents[i + near];
  if (!just_before || !just_after || !sides_apart(*just_before, *just_after)) return false;
  const auto before = plateau_cents(series, i - far, i - near);
  const auto after = plateau_cents(series, i + near, i + far);
  return before && after && sides_apart(*before, *after) && std::abs(*after - *series.cents[i]) > new_note_cents;
}

/// Does the pitch, smoothed over a vibrato's period, move faster than blowing moves it? A slide from note to note does.
bool glides(const FrameSeries& series, std::size_t i) {
  const std::size_t period = frames_in(vibrato_period_s, series);
  const std::size_t near = frames_in(0.05, series);
  if (i < period || i + period >= series.cents.size()) return false;
  const auto just_before = series.cents[i - near];
  const auto just_after = series.cents[i + near];
  if (!just_before || !just_after || std::abs(*just_after - *just_before) < 2.0 * moving_cents) return false;
  for (std::size_t k = i - period; k < i + period; ++k) {
    const auto here = series.cents[k];
    const auto next = series.cents[k + 1];
    if (!here || !next || std::abs(*next - *here) > step_cents) return false;  // a step or a break is no slide
  }
  double before = 0;
  double after = 0;
  for (std::size_t k = 1; k <= period; ++k) {
    before += *series.cents[i - k];
    after += *series.cents[i + k];
  }
  return std::abs(after - before) / static_cast<double>(period) > fastest_blowing_cents_per_s * vibrato_period_s;
}

/// Runs of tonal frames without a step in pitch, a change of note or a dip of the level.
std::vector<FrameSpan> unbroken_spans(const FrameSeries& series) {
  const std::vector<bool> dip = in_dip(series);
  std::vector<FrameSpan> spans;
  bool open = false;
  for (std::size_t i = 0; i < series.cents.size(); ++i) {
    const bool good =
        series.cents[i] && !dip[i] && !changes_note(series, i) && !changes_plateau(series, i) && !glides(series, i);
    const bool goes_on = open && good && std::abs(*series.cents[i] - *series.cents[i - 1]) < step_cents;
    if (goes_on) {
      spans.back().last = i;
    } else if (good) {
      spans.push_back({i, i});
    }
    open = good;
  }
  std::erase_if(spans, [&](const FrameSpan& s) { return s.frames() < frames_in(least_span_s, series); });
  return spans;
}

/// A span's end beside a break, as far as the two sides of the break can be compared by it: over a swell they move.
struct Side {
  double cents;
  double noise_db;

  Side(const FrameSeries& series, std::size_t first, std::size_t last) {
    std::vector<double> all_cents;
    for (std::size_t i = first; i <= last; ++i) all_cents.push_back(*series.cents[i]);
    cents = *median_of(all_cents);
    noise_db = *median_of(
        {series.noise_db.begin() + static_cast<long>(first), series.noise_db.begin() + static_cast<long>(last) + 1});
  }
};

/// Does the sound between two spans go on in another register, about as loud, for most of the time?
bool slips_register(const FrameSeries& series, const FrameSpan& before, const FrameSpan& after, double cents) {
  const double least_db = series.level_db[before.last] - register_break_db;
  std::size_t elsewhere = 0;
  for (std::size_t i = before.last + 1; i < after.first; ++i) {
    const auto here = series.cents[i];
    elsewhere += here && series.level_db[i] > least_db && std::abs(*here - cents) > register_apart_cents;
  }
  return 2 * elsewhere > after.first - before.last - 1;
}

bool belongs_together(const FrameSeries& series, const FrameSpan& before, const FrameSpan& after) {
  const std::size_t gap = after.first - before.last - 1;
  if (gap > frames_in(register_break_s, series)) return false;
  const std::size_t beside = frames_in(0.2, series);
  const Side left(series, before.last - std::min(before.frames() - 1, beside), before.last);
  const Side right(series, after.first, after.first + std::min(after.frames() - 1, beside));
  if (std::abs(right.cents - left.cents) > same_pitch_cents) return false;
  const bool same_blow = std::abs(right.noise_db - left.noise_db) < same_blow_noise_db;
  return (gap <= frames_in(short_break_s, series) && same_blow) || slips_register(series, before, after, left.cents);
}

}  // namespace

FrameSeries series_of(const PitchTrack& track) {
  FrameSeries series;
  series.hop_s = track.hop_s;
  double loudest_db = no_level_db;
  for (const PitchFrame& frame : track.frames) {
    double power = 0;
    if (frame.tone && frame.tone->clarity >= least_clarity) {
      for (const float a : frame.tone->amplitude) power += 0.5 * a * a;
    }
    series.level_db.push_back(power > 0 ? db_from_power(power) : no_level_db);
    series.noise_db.push_back(frame.noise_db);
    loudest_db = std::max(loudest_db, series.level_db.back());
  }
  for (std::size_t i = 0; i < track.frames.size(); ++i) {
    const bool sounds = series.level_db[i] > std::max(loudest_db - under_loudest_db, no_level_db);
    series.cents.push_back(sounds ? std::optional(cents_between(440.0, track.frames[i].tone->f0_hz)) : std::nullopt);
  }
  return series;
}

std::vector<Piece> find_pieces(const FrameSeries& series) {
  constexpr std::size_t look_back = 3;  // a break may hold a span or two of its own
  std::vector<Piece> pieces;
  for (const FrameSpan& span : unbroken_spans(series)) {
    std::size_t back = 0;
    while (back < std::min(look_back, pieces.size()) &&
           !belongs_together(series, pieces[pieces.size() - 1 - back].spans.back(), span)) {
      ++back;
    }
    if (back < std::min(look_back, pieces.size())) {
      pieces.resize(pieces.size() - back);
      pieces.back().spans.push_back(span);
    } else {
      pieces.push_back({{span}});
    }
  }
  return pieces;
}

}  // namespace windway
