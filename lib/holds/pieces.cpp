// SPDX-License-Identifier: GPL-3.0-or-later
#include "holds/pieces.hpp"

#include <algorithm>
#include <cmath>

#include "holds/dips.hpp"
#include "holds/left_out_noise.hpp"
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
constexpr double same_pitch_cents = 45.0;
constexpr double short_break_s = 0.11;    // a cut or tap of 50 ms as the window smears it
constexpr double register_break_s = 0.3;  // a slip into another register, too short for a hold, as the window smears it
constexpr double register_break_db = 15.0;  // and it goes on sounding about as loud
constexpr double register_apart_cents = 600.0;
constexpr double undiminished_within_db = 3.0;  // a new blow's onset shows, even in a room
constexpr double breath_stops_db = 10.0;
constexpr double least_beside_break_s = 0.1;  // a syllable is shorter, and two of them are no hold with a cut in it
constexpr double same_blow_noise_db = 4.0;    // on both sides of a cut the breath is the same
constexpr double least_span_s = 0.05;

/// To the nearest, without the call that lround is: this is asked of every frame.
std::size_t frames_in(double seconds, const FrameSeries& series) {
  return static_cast<std::size_t>(seconds / series.hop_s + 0.5);  // NOLINT(bugprone-incorrect-roundings)
}

/// What a series falls to between the notes: its 5th percentile.
double quiet_of(std::vector<double> values) {
  if (values.empty()) return no_level_db;
  const auto quiet = values.begin() + static_cast<long>(values.size() / 20);
  std::nth_element(values.begin(), quiet, values.end());
  return *quiet;
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

/// Is the breath still heard wherever something sounds between two spans?
bool breath_goes_on(const FrameSeries& series, const FrameSpan& before, const FrameSpan& after) {
  double least_db = std::min(series.noise_db[before.last], series.noise_db[after.first]);
  if (least_db - series.quiet_noise_db < breath_heard_db) return true;  // it is not heard at all
  least_db -= breath_stops_db;
  const auto first = series.noise_db.begin() + static_cast<long>(before.last);
  return std::none_of(first, first + static_cast<long>(after.first - before.last),
                      [least_db](double noise_db) { return noise_db < least_db; });
}

/// Does the sound between two spans go on in another register, about as loud, for most of the time? Or undiminished,
/// in either register, throughout?
bool slips_register(const FrameSeries& series, const FrameSpan& before, const FrameSpan& after, double cents) {
  const double least_db = series.level_db[before.last] - register_break_db;
  const double undiminished_db =
      std::min(series.level_db[before.last], series.level_db[after.first]) - undiminished_within_db;
  std::size_t elsewhere = 0;
  std::size_t undiminished = 0;
  for (std::size_t i = before.last + 1; i < after.first; ++i) {
    if (!series.cents[i] || series.level_db[i] <= least_db) continue;
    const double apart_cents = std::abs(*series.cents[i] - cents);
    elsewhere += apart_cents > register_apart_cents;
    undiminished +=
        series.level_db[i] > undiminished_db && (apart_cents > register_apart_cents || apart_cents < same_pitch_cents);
  }
  const std::size_t gap = after.first - before.last - 1;
  return elsewhere > 0 && (2 * elsewhere > gap || undiminished == gap) && breath_goes_on(series, before, after);
}

bool belongs_together(const FrameSeries& series, const FrameSpan& before, const FrameSpan& after) {
  const std::size_t gap = after.first - before.last - 1;
  if (gap > frames_in(register_break_s, series)) return false;
  const std::size_t beside = frames_in(0.2, series);
  const Side left(series, before.last - std::min(before.frames() - 1, beside), before.last);
  const Side right(series, after.first, after.first + std::min(after.frames() - 1, beside));
  if (std::abs(right.cents - left.cents) > same_pitch_cents) return false;
  const bool long_enough = std::min(before.frames(), after.frames()) >= frames_in(least_beside_break_s, series);
  const bool same_blow = long_enough && std::abs(right.noise_db - left.noise_db) < same_blow_noise_db;
  return (gap <= frames_in(short_break_s, series) && same_blow) || slips_register(series, before, after, left.cents);
}

}  // namespace

FrameSeries series_of(const PitchTrack& track) {
  FrameSeries series;
  series.hop_s = track.hop_s;
  series.level_db.reserve(track.frames.size());
  series.noise_db.reserve(track.frames.size());
  series.cents.reserve(track.frames.size());
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
  series.quiet_noise_db = quiet_of(series.noise_db);
  for (std::size_t i = 0; i < track.frames.size(); ++i) {
    const bool sounds = series.level_db[i] > std::max(loudest_db - under_loudest_db, no_level_db);
    series.cents.push_back(sounds ? std::optional(cents_between(440.0, track.frames[i].tone->f0_hz)) : std::nullopt);
  }
  if (noise_is_left_out(track, series.cents)) std::ranges::fill(series.noise_db, series.quiet_noise_db);
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
