// SPDX-License-Identifier: GPL-3.0-or-later
#include "holds/steady.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <numeric>
#include <span>

#include "holds/take_traits.hpp"
#include "holds/vibrato.hpp"
#include "units/order_statistics.hpp"
#include "units/units.hpp"

namespace windway {

namespace {

constexpr double beside_s = 0.1;  // an edge frame is judged by this much of the hold beside it, or a period of vibrato
constexpr double margin_least_s = 0.01;
constexpr double margin_most_share = 0.06;  // of the hold
// Of the hold: four periods that just miss a fifth fill 0.8 of it, with the margins less.
constexpr double least_whole_periods_share = 0.72;
constexpr double slide_span_s = 0.3;
constexpr double fastest_blowing_cents_per_s = 150.0;
constexpr double sounding_under_db = 20.0;  // the hold's ends lie this far under its median level

double median_of(const std::vector<double>& values, std::size_t first, std::size_t last) {
  return *windway::median_of({values.begin() + static_cast<long>(first), values.begin() + static_cast<long>(last) + 1});
}

double mean_of(const std::vector<double>& values, std::size_t first, std::size_t count) {
  const auto from = values.begin() + static_cast<long>(first);
  return std::accumulate(from, from + static_cast<long>(count), 0.0) / static_cast<double>(count);
}

std::vector<double> cents_of(const FrameSeries& series, const FrameSpan& span) {
  std::vector<double> cents;
  for (std::size_t i = span.first; i <= span.last; ++i)
    cents.push_back(series.cents[i].value_or(cents.empty() ? 0.0 : cents.back()));
  return cents;
}

/// A quantity of a hold's frames: how it scatters while it is settled, and over what range it lies while it is not.
struct Settling {
  double least_sd = 0;
  double range = 0;
};
constexpr Settling level_db{0.1, 40.0}, noise_db{0.7, 40.0}, pitch_cents{0.1, 200.0};
constexpr double most_log_ratio = 2.0;
constexpr double attack_s = 0.08;       // a tongued attack or a release lasts so long (from memory)
constexpr double late_nats = 0.5;       // a longer one is less likely by so much a frame: what moves on is the note
constexpr double breath_goes_on = 1.5;  // of the noise: then the room moves the tone's level, not the player
constexpr double freedom = 3.0;        // of Student's t, by which settled frames scatter: a room fades one now and then
constexpr double mad_factor = 1.4826;  // of a normal variable's SD over its median absolute deviation

/// The series of one piece, read from one of its ends inwards, so that attack and release are one case.
struct Inwards {
  std::vector<double> level_db, noise_db, cents;
  bool breath_heard = false;

  Inwards(const FrameSeries& series, const FrameSpan& span, bool from_end) : cents(cents_of(series, span)) {
    for (std::size_t i = span.first; i <= span.last; ++i) {
      level_db.push_back(series.level_db[i]);
      noise_db.push_back(series.noise_db[i]);
    }
    breath_heard = *windway::median_of(noise_db) - series.quiet_noise_db > breath_heard_db;
    if (!from_end) return;
    for (auto* values : {&level_db, &noise_db, &cents}) std::reverse(values->begin(), values->end());
  }
};

/// What each frame should be if the tone is settled there: as the frames after it, or as the vibrato goes.
std::vector<double> expected_values(const std::vector<double>& values, double hop_s, std::optional<double> vibrato) {
  const std::size_t n = values.size();
  if (vibrato) return fitted_vibrato(values, hop_s, *vibrato, n / 6, n - 1 - n / 6);
  const auto beside = std::min(static_cast<std::size_t>(std::lround(beside_s / hop_s)), n / 3);
  return running_medians(std::span(values).subspan(1), std::max<std::size_t>(1, beside));
}

/// Log of how much likelier each of the first frames is as a settled one, by one quantity. The scatter is that of the
/// inner frames.
std::vector<double> settled_log_ratios(const std::vector<double>& values, const std::vector<double>& expected,
                                       const Settling& settling, std::size_t frames) {
  std::vector<double> inner;
  for (std::size_t k = expected.size() / 4; k < expected.size(); ++k) inner.push_back(values[k] - expected[k]);
  const double middle = *windway::median_of(inner);  // a steady fall or rise puts all frames off alike
  for (double& off : inner) off = std::abs(off - middle);
  const double sd = std::max(settling.least_sd, mad_factor * *windway::median_of(inner));
  const double peak = std::log(settling.range / (sd * std::sqrt(2.0 * std::numbers::pi)));
  std::vector<double> ratios;
  for (std::size_t k = 0; k < std::min(frames, expected.size()); ++k) {
    const double off = (values[k] - expected[k] - middle) / sd;
    ratios.push_back(std::max(-most_log_ratio, peak - 0.5 * (freedom + 1.0) * std::log1p(off * off / freedom)));
  }
  return ratios;
}

/// A frame is settled where all quantities are: against it stands the likeliest set of them that is not.
double settled_log_ratio(const std::array<double, 3>& by_quantity) {
  double against = 0;
  for (const double ratio : by_quantity) against += std::min(ratio, 0.0);
  return against < 0 ? against : *std::min_element(by_quantity.begin(), by_quantity.end());
}

/// Frames before the change point from unsettled to settled.
std::size_t unsettled_frames(const Inwards& inwards, double hop_s, std::optional<double> vibrato) {
  const std::size_t most = inwards.cents.size() / 2;
  const auto ratios = [&](const std::vector<double>& values, const Settling& settling) {
    return settled_log_ratios(values, expected_values(values, hop_s, vibrato), settling, most);
  };
  const std::vector<double> by_level = ratios(inwards.level_db, level_db),
                            by_noise = ratios(inwards.noise_db, noise_db),
                            by_pitch = ratios(inwards.cents, pitch_cents);
  double sum = 0, least = 0;
  std::size_t change = 0;
  for (std::size_t k = 0; k < by_level.size(); ++k) {
    const bool room_fades =
        static_cast<double>(k) * hop_s > attack_s && inwards.breath_heard && by_noise[k] > breath_goes_on;
    if (static_cast<double>(k) * hop_s > attack_s) sum += late_nats;
    sum += settled_log_ratio({room_fades ? std::max(0.0, by_level[k]) : by_level[k], by_noise[k], by_pitch[k]});
    if (sum >= least) continue;
    least = sum;
    change = k + 1;
  }
  return change;
}

/// Of the inner part of a piece, by its pitch or else by its breath: a room's echoes make a level swing too.
std::optional<double> vibrato_of(const FrameSeries& series, const Piece& piece) {
  constexpr double least_cents = 3.0, least_db = 0.7;
  if (piece.spans.size() > 1) return std::nullopt;
  const std::size_t sixth = piece.spans.front().frames() / 6;
  const FrameSpan inner{piece.first() + sixth, piece.last() - sixth};
  const Inwards values(series, inner, false);
  const auto rate_hz = vibrato_hz(values.cents, series.hop_s, least_cents);
  return rate_hz ? rate_hz
                 : vibrato_hz(values.breath_heard ? values.noise_db : values.level_db, series.hop_s, least_db);
}

double slope_per_s(const std::vector<double>& values, const FrameSpan& span, double hop_s) {
  const auto n = static_cast<double>(span.frames());
  double sum = 0;
  for (std::size_t i = span.first; i <= span.last; ++i) {
    sum += values[i] * (static_cast<double>(i - span.first) - (n - 1.0) / 2.0);
  }
  return sum / (n * (n * n - 1.0) / 12.0) / hop_s;
}

/// A short span beside a break that goes up or down as fast as no blowing does is a piece of a slide.
bool slides(const FrameSeries& series, const FrameSpan& span) {
  const std::vector<double> cents = cents_of(series, span);
  return static_cast<double>(span.frames()) * series.hop_s < slide_span_s &&
         std::abs(slope_per_s(cents, {0, cents.size() - 1}, series.hop_s)) > fastest_blowing_cents_per_s;
}

std::vector<FrameSpan> spans_within(const FrameSeries& series, const Piece& piece, const FrameSpan& limits) {
  const auto beside = series.frames_in(series.window_s);  // within it a frame hears the break
  std::vector<FrameSpan> spans;
  for (const FrameSpan& s : piece.spans) {
    const std::size_t first = s.first == piece.first() ? s.first : s.first + beside;
    const std::size_t last = s.last == piece.last() ? s.last : s.last - std::min(s.last, beside);
    const FrameSpan kept{std::max(first, limits.first), std::min(last, limits.last)};
    if (kept.first + 2 <= kept.last && !slides(series, kept)) spans.push_back(kept);
  }
  return spans;
}

/// What a scoop that settles may be at most in the first of these frames: how far the mean of the first `count` stands
/// off those after them, and how surely that is told.
double most_scoop_cents(const std::vector<double>& cents, std::size_t count, double hop_s) {
  const std::size_t after = std::min(static_cast<std::size_t>(beside_s / hop_s + 0.5), cents.size() - count);
  const double after_cents = mean_of(cents, count, after);
  double squares = 0;
  for (std::size_t i = count; i < count + after; ++i) squares += (cents[i] - after_cents) * (cents[i] - after_cents);
  const auto first = static_cast<double>(count), rest = static_cast<double>(after);
  const double error = std::sqrt(squares / std::max(rest - 1.0, 1.0) * (1.0 / first + 1.0 / rest));
  const double settlings = first * hop_s / scoop_settles_s;
  return (std::abs(mean_of(cents, 0, count) - after_cents) + normal_u95_factor * error) * settlings /
         (1.0 - std::exp(-settlings));
}

/// What the breath's unsteadiness adds to the square of a mean's error, times the time that the mean is over.
double wander_cents2_s(const std::vector<double>& cents) {
  constexpr double correlation_s = 0.2;  // of the breath's unsteadiness (from memory)
  const double mean = mean_of(cents, 0, cents.size());
  double squares = 0;
  for (const double c : cents) squares += (c - mean) * (c - mean);
  return correlation_s * squares / static_cast<double>(cents.size());
}

/// Frames left out at the beginning of these while a scoop settles: what makes the expected square of the mean's error
/// least, bias of the rest of the scoop against the wander that a longer part averages. `ramp_s`: since the onset.
std::size_t margin_frames(const std::vector<double>& cents, double ramp_s, double hop_s) {
  constexpr double at_onset_cents = 100.0;  // a scoop begins a semitone off at most (from memory)
  constexpr std::size_t first_frames = 2;   // as long as a scoop takes to settle
  if (cents.size() <= 2 * first_frames) return 0;
  const double scoop_cents =
      std::min(at_onset_cents * std::exp(-ramp_s / scoop_settles_s), most_scoop_cents(cents, first_frames, hop_s));
  const double odds = 2.0 * scoop_cents * scoop_cents * scoop_settles_s / std::max(wander_cents2_s(cents), 1e-9);
  const double best_s = 0.5 * scoop_settles_s * std::log(std::max(odds, 1.0));
  const double most_s = margin_most_share * static_cast<double>(cents.size()) * hop_s;
  return static_cast<std::size_t>(std::clamp(best_s, margin_least_s, std::max(margin_least_s, most_s)) / hop_s + 0.5);
}

/// Of the spans of `frames` that begin within a quarter of a period of `about`, the one whose ends lie nearest to its
/// mean pitch: there its mean hangs least on where exactly it begins and ends.
FrameSpan ending_at_mean(const FrameSeries& series, const FrameSpan& limits, std::size_t frames, std::size_t about,
                         std::size_t quarter_period) {
  const std::size_t last_begin = limits.last + 1 - frames;
  const std::size_t begin = std::max(limits.first, about - std::min(about, quarter_period));
  FrameSpan best{std::clamp(about, limits.first, last_begin), 0};
  double least_cents = std::numeric_limits<double>::infinity();
  for (std::size_t first = begin; first <= std::min(last_begin, about + quarter_period); ++first) {
    const std::vector<double> cents = cents_of(series, {first, first + frames - 1});
    const double mean_cents = mean_of(cents, 0, frames);
    const double off_cents = std::hypot(cents.front() - mean_cents, cents.back() - mean_cents);
    if (off_cents >= least_cents) continue;
    least_cents = off_cents;
    best.first = first;
  }
  return {best.first, best.first + frames - 1};
}

/// The most whole periods of the vibrato that fit into the hold, about the middle of the part kept, if they fill it
/// well.
FrameSpan whole_periods(const FrameSeries& series, const FrameSpan& full, const FrameSpan& kept, double vibrato_hz) {
  const double full_s = static_cast<double>(full.frames() - 1) * series.hop_s;
  constexpr double to_choose = 0.1;  // of a period: room to choose where the whole ones begin
  const double periods_s = std::floor(full_s * vibrato_hz - to_choose) / vibrato_hz;
  if (periods_s < least_whole_periods_share * full_s) return kept;
  const std::size_t length = series.frames_in(periods_s), middle = (kept.first + kept.last) / 2;
  return ending_at_mean(series, full, length + 1, middle - std::min(middle, length / 2),
                        series.frames_in(0.25 / vibrato_hz) + 1);
}

FrameSpan sounding_span(const FrameSeries& series, const Piece& piece, const FrameSpan& full) {
  const double floor_db = median_of(series.level_db, full.first, full.last) - sounding_under_db;
  FrameSpan sounding = full;
  while (sounding.first > piece.first() && series.level_db[sounding.first - 1] > floor_db) --sounding.first;
  while (sounding.last < piece.last() && series.level_db[sounding.last + 1] > floor_db) ++sounding.last;
  return sounding;
}

}  // namespace

std::optional<SteadyPart> steady_part(const FrameSeries& series, const Piece& piece) {
  const FrameSpan whole{piece.first(), piece.last()};
  if (whole.frames() < 8) return std::nullopt;
  const auto vibrato = vibrato_of(series, piece);
  const std::size_t attack = unsettled_frames(Inwards(series, whole, false), series.hop_s, vibrato);
  const std::size_t release = unsettled_frames(Inwards(series, whole, true), series.hop_s, vibrato);
  if (attack + release + 3 > whole.frames()) return std::nullopt;
  const FrameSpan full{whole.first + attack, whole.last - release};
  std::vector<double> cents = cents_of(series, full);
  const auto seconds = [&](std::size_t frames) { return static_cast<double>(frames) * series.hop_s; };
  FrameSpan kept = full;
  kept.first += margin_frames(cents, seconds(attack), series.hop_s);
  const std::size_t margin = kept.first - full.first;
  const double scoop_cents = margin > 0 && margin < cents.size() ? most_scoop_cents(cents, margin, series.hop_s) *
                                                                       std::exp(-seconds(margin) / scoop_settles_s)
                                                                 : 0.0;
  std::reverse(cents.begin(), cents.end());
  kept.last -= margin_frames(cents, seconds(release), series.hop_s);
  if (kept.first + 2 > kept.last) return std::nullopt;
  if (vibrato) kept = whole_periods(series, full, kept, *vibrato);
  SteadyPart part{sounding_span(series, piece, full), spans_within(series, piece, kept), scoop_cents, vibrato};
  return part.spans.empty() ? std::nullopt : std::optional(part);
}

}  // namespace windway
