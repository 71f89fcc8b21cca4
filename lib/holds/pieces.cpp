// SPDX-License-Identifier: GPL-3.0-or-later
#include "holds/pieces.hpp"

#include <algorithm>
#include <cmath>
#include <functional>

#include "units/units.hpp"

namespace windway {

namespace {

constexpr double no_level_db = -200.0;
constexpr double least_clarity = 0.35;       // held notes show 0.7 and more in loud breath noise, noise alone 0.1
constexpr double under_loudest_db = 50.0;    // a tone this far under the take's loudest is a tail or a far sound
constexpr double step_cents = 45.0;          // in one hop: a change of note, not of blowing
constexpr double note_change_cents = 70.0;   // over note_change_s: likewise, where the window smears the step
constexpr double note_change_s = 0.06;
constexpr double dip_db = 8.0;               // under both sides: the gap between two blows, filled by the room
constexpr double dip_noise_with_tone_db = 2.5;
constexpr double dip_noise_db = 6.0;         // noise alone scatters by 2 dB from frame to frame
constexpr double dip_side_s = 0.5;
constexpr double dip_holds_s = 0.08;         // longer than the chiff of an attack
constexpr double breath_heard_db = 6.0;
constexpr double same_pitch_cents = 45.0;
constexpr double short_break_s = 0.11;       // a cut or tap of 50 ms as the window smears it
constexpr double register_break_s = 0.26;    // a slip into another register
constexpr double register_break_db = 15.0;   // and it goes on sounding about as loud
constexpr double least_span_s = 0.05;

std::size_t frames_in(double seconds, const FrameSeries& series) {
  return static_cast<std::size_t>(std::lround(seconds / series.hop_s));
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

/// Does the breath noise of the held notes stand clear of the noise between them?
bool breath_is_heard(const FrameSeries& series) {
  std::vector<double> all = series.noise_db;
  std::vector<double> tonal;
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (series.cents[i]) tonal.push_back(all[i]);
  }
  if (tonal.empty()) return false;
  const auto quiet = all.begin() + static_cast<long>(all.size() / 20);
  const auto middle = tonal.begin() + static_cast<long>(tonal.size() / 2);
  std::nth_element(all.begin(), quiet, all.end());
  std::nth_element(tonal.begin(), middle, tonal.end());
  return *middle - *quiet > breath_heard_db;
}

/// Marks the frames between two blows that a room fills with the first one's sound: the tone dips, and the breath noise
/// with it. Noise decays smoothly; a tone may by itself dip or swell as its echoes meet.
std::vector<bool> in_dip(const FrameSeries& series) {
  const std::size_t side = frames_in(dip_side_s, series);
  const std::size_t holds = frames_in(dip_holds_s, series);
  const bool breath_heard = breath_is_heard(series);
  std::vector<bool> dip(series.level_db.size(), false);
  for (std::size_t i = 0; i < dip.size(); ++i) {
    if (!series.cents[i]) continue;
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
  const auto after = series.cents[i + half];
  return before && after && std::abs(*after - *before) > note_change_cents;
}

/// Runs of tonal frames without a step in pitch, a change of note or a dip of the level.
std::vector<FrameSpan> unbroken_spans(const FrameSeries& series) {
  const std::vector<bool> dip = in_dip(series);
  std::vector<FrameSpan> spans;
  bool open = false;
  for (std::size_t i = 0; i < series.cents.size(); ++i) {
    const bool good = series.cents[i] && !dip[i] && !changes_note(series, i);
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

double median_cents(const FrameSeries& series, std::size_t first, std::size_t last) {
  std::vector<double> values;
  for (std::size_t i = first; i <= last; ++i) {
    if (series.cents[i]) values.push_back(*series.cents[i]);
  }
  const auto middle = values.begin() + static_cast<long>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

/// Does the sound between two spans go on in another register, about as loud?
bool slips_register(const FrameSeries& series, const FrameSpan& before, const FrameSpan& after, double cents) {
  for (std::size_t i = before.last + 1; i < after.first; ++i) {
    if (series.level_db[i] < series.level_db[before.last] - register_break_db) return false;
  }
  const std::size_t middle = (before.last + after.first) / 2;
  const double octaves = (series.cents[middle].value_or(cents) - cents) / 1200.0;
  return std::abs(octaves) > 0.5;
}

bool belongs_together(const FrameSeries& series, const FrameSpan& before, const FrameSpan& after) {
  const std::size_t gap = after.first - before.last - 1;
  if (gap > frames_in(register_break_s, series)) return false;
  // The sides of a break are compared beside it: over a swell the pitch moves.
  const std::size_t beside = frames_in(0.2, series);
  const double cents = median_cents(series, before.last - std::min(before.frames() - 1, beside), before.last);
  const double cents_after = median_cents(series, after.first, after.first + std::min(after.frames() - 1, beside));
  if (std::abs(cents_after - cents) > same_pitch_cents) return false;
  return gap <= frames_in(short_break_s, series) || slips_register(series, before, after, cents);
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
