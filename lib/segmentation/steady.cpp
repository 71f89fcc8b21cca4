// SPDX-License-Identifier: GPL-3.0-or-later
#include "segmentation/steady.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <numeric>
#include <span>

#include "segmentation/take_traits.hpp"
#include "segmentation/vibrato.hpp"
#include "statistics/robust_centre.hpp"
#include "units/order_statistics.hpp"
#include "units/units.hpp"

namespace windway {

namespace {

constexpr double next_s = 0.1;  // an edge frame is compared with this much of the hold next to it, or with the vibrato
constexpr double margin_least_s = 0.01;
constexpr double margin_most_share = 0.06;  // of the hold
// Of the hold: four periods that just miss a fifth fill 0.8 of it, with the margins less.
constexpr double least_whole_periods_share = 0.72;
constexpr double slide_span_s = 0.3;
constexpr double fastest_blowing_cents_per_s = 150.0;
constexpr double scoop_cents_usual = 5.0;   // where the tone is just full: an assumption, where no margin shows it
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
// An attack or a release lasts no longer than the greater of these: what moves longer is the note, or a room.
constexpr double usual_ramp_s = 0.13;
constexpr double longest_ramp_share = 0.15;
constexpr double attack_s = 0.08;       // a tongued attack or a release lasts so long (from memory)
constexpr double breath_goes_on = 1.5;  // of the noise: then the room moves the tone's level, not the player
constexpr double freedom = 3.0;  // of Student's t, by which settled frames scatter: a room fades one now and then

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

/// Value of each frame if the tone is settled there: the median of the frames after it, or the fitted vibrato.
std::vector<double> expected_values(const std::vector<double>& values, double hop_s, std::optional<double> vibrato) {
  const std::size_t n = values.size();
  if (vibrato) return fitted_vibrato(values, hop_s, *vibrato, n / 6, n - 1 - n / 6);
  const auto after = std::min(static_cast<std::size_t>(std::lround(next_s / hop_s)), n / 3);
  return running_medians(std::span(values).subspan(1), std::max<std::size_t>(1, after));
}

/// Log likelihood ratio of each of the first frames being settled against not, by one quantity. The scatter is that of
/// the inner frames.
std::vector<double> settled_log_ratios(const std::vector<double>& values, const std::vector<double>& expected,
                                       const Settling& settling, std::size_t frames) {
  std::vector<double> inner;
  for (std::size_t k = expected.size() / 4; k < expected.size(); ++k) inner.push_back(values[k] - expected[k]);
  const RobustCentre centre = *robust_centre(std::move(inner));  // a steady fall or rise puts all frames off alike
  const double sd = std::max(settling.least_sd, centre.scaled_mad);
  const double peak = std::log(settling.range / (sd * std::sqrt(2.0 * std::numbers::pi)));
  std::vector<double> ratios;
  for (std::size_t k = 0; k < std::min(frames, expected.size()); ++k) {
    const double off = (values[k] - expected[k] - centre.median) / sd;
    ratios.push_back(std::max(-most_log_ratio, peak - 0.5 * (freedom + 1.0) * std::log1p(off * off / freedom)));
  }
  return ratios;
}

/// A frame is settled if all quantities are; the alternative is the likeliest set of them that is not.
double settled_log_ratio(const std::array<double, 3>& by_quantity) {
  double against = 0;
  for (const double ratio : by_quantity) against += std::min(ratio, 0.0);
  return against < 0 ? against : *std::min_element(by_quantity.begin(), by_quantity.end());
}

/// Frames before the change point from unsettled to settled.
std::size_t unsettled_frames(const Inwards& inwards, double hop_s, std::optional<double> vibrato) {
  const double length_s = static_cast<double>(inwards.cents.size()) * hop_s;
  const auto longest_ramp = static_cast<std::size_t>(std::max(usual_ramp_s, longest_ramp_share * length_s) / hop_s);
  // With a vibrato fitted, a room's movement needs no bound.
  const std::size_t half = inwards.cents.size() / 2, most = vibrato ? half : std::min(half, longest_ramp);
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
        (vibrato || static_cast<double>(k) * hop_s > attack_s) && inwards.breath_heard && by_noise[k] > breath_goes_on;
    sum += settled_log_ratio({room_fades ? std::max(0.0, by_level[k]) : by_level[k], by_noise[k], by_pitch[k]});
    if (sum >= least) continue;
    least = sum;
    change = k + 1;
  }
  return change;
}

/// Of the inner part of a piece, by its pitch or else by its level.
std::optional<double> vibrato_of(const FrameSeries& series, const Piece& piece) {
  constexpr double least_cents = 3.0, least_db = 0.7;
  if (piece.spans.size() > 1) return std::nullopt;
  const std::size_t sixth = piece.spans.front().frames() / 6;
  const FrameSpan inner{piece.first() + sixth, piece.last() - sixth};
  const Inwards values(series, inner, false);
  const auto rate_hz = vibrato_hz(values.cents, series.hop_s, least_cents);
  return rate_hz ? rate_hz : vibrato_hz(values.level_db, series.hop_s, least_db);
}

double slope_per_s(const std::vector<double>& values, const FrameSpan& span, double hop_s) {
  const auto n = static_cast<double>(span.frames());
  double sum = 0;
  for (std::size_t i = span.first; i <= span.last; ++i) {
    sum += values[i] * (static_cast<double>(i - span.first) - (n - 1.0) / 2.0);
  }
  return sum / (n * (n * n - 1.0) / 12.0) / hop_s;
}

/// True for a short span next to a break whose pitch moves faster than blowing can move it: a piece of a slide.
bool slides(const FrameSeries& series, const FrameSpan& span) {
  const std::vector<double> cents = cents_of(series, span);
  return static_cast<double>(span.frames()) * series.hop_s < slide_span_s &&
         std::abs(slope_per_s(cents, {0, cents.size() - 1}, series.hop_s)) > fastest_blowing_cents_per_s;
}

std::vector<FrameSpan> spans_within(const FrameSeries& series, const Piece& piece, const FrameSpan& limits) {
  const auto window = series.frames_in(series.window_s);  // frames so near to the break contain some of it
  std::vector<FrameSpan> spans;
  for (const FrameSpan& s : piece.spans) {
    const std::size_t first = s.first == piece.first() ? s.first : s.first + window;
    const std::size_t last = s.last == piece.last() ? s.last : s.last - std::min(s.last, window);
    const FrameSpan kept{std::max(first, limits.first), std::min(last, limits.last)};
    if (kept.first + 2 <= kept.last && !slides(series, kept)) spans.push_back(kept);
  }
  return spans;
}

/// Variance of the pitch's wander times its correlation time: over the length averaged, the variance of the mean.
double wander_cents2_s(const std::vector<double>& cents) {
  constexpr double correlation_s = 0.2;  // of the breath's unsteadiness (from memory)
  const double mean = mean_of(cents, 0, cents.size());
  double squares = 0;
  for (const double c : cents) squares += (c - mean) * (c - mean);
  return correlation_s * squares / static_cast<double>(cents.size());
}

/// The margin left out at an end while a scoop settles: it minimises the expected squared error of the mean, the bias
/// of the rest of the scoop against the wander that a longer part averages.
double margin_s(double wander_cents2_s, double hold_s) {
  constexpr double most_scoop_cents = 10.0;  // at the change point, where a fall has begun unseen
  const double odds = 2.0 * most_scoop_cents * most_scoop_cents * scoop_settles_s / std::max(wander_cents2_s, 1e-9);
  const double best_s = 0.5 * scoop_settles_s * std::log(std::max(odds, 1.0));
  return std::clamp(best_s, margin_least_s, std::max(margin_least_s, margin_most_share * hold_s));
}

/// Of the spans of `frames` that begin within a quarter of a period of `about`, the one whose ends lie nearest to its
/// mean pitch: its mean then depends least on where exactly it begins and ends.
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
  const double periods_s = std::floor(full_s * vibrato_hz) / vibrato_hz;
  if (periods_s < least_whole_periods_share * full_s) return kept;
  const std::size_t length = series.frames_in(periods_s), middle = (kept.first + kept.last) / 2;
  return ending_at_mean(series, full, length + 1, middle - std::min(middle, length / 2),
                        series.frames_in(0.25 / vibrato_hz) + 1);
}

/// Upper bound of a scoop at the beginning of a margin that starts at frame `from` and ends at the steady part: the
/// difference between the margin's frames and the steady ones after them, and its u95.
double most_scoop_cents(const FrameSeries& series, std::size_t from, const FrameSpan& kept) {
  if (kept.first <= from) return scoop_cents_usual;
  const auto after = static_cast<std::size_t>(std::lround(next_s / series.hop_s));
  const std::size_t last = std::min(kept.first + after - 1, kept.last);
  const std::vector<double> margin = cents_of(series, {from, kept.first - 1});
  const std::vector<double> steady = cents_of(series, {kept.first, last});
  const double steady_cents = mean_of(steady, 0, steady.size());
  double squares = 0;
  for (const double c : steady) squares += (c - steady_cents) * (c - steady_cents);
  const auto in_margin = static_cast<double>(margin.size());
  const auto in_steady = static_cast<double>(steady.size());
  const double error = std::sqrt(squares / std::max(in_steady - 1.0, 1.0) * (1.0 / in_margin + 1.0 / in_steady));
  const double off_cents = std::abs(mean_of(margin, 0, margin.size()) - steady_cents);
  const double settlings = in_margin * series.hop_s / scoop_settles_s;
  return (off_cents + normal_u95_factor * error) * settlings / (1.0 - std::exp(-settlings));
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
  const std::vector<double> cents = cents_of(series, full);
  const double margin = margin_s(wander_cents2_s(cents), static_cast<double>(full.frames()) * series.hop_s);
  const auto frames = static_cast<std::size_t>(std::lround(margin / series.hop_s));
  if (2 * frames + 3 > full.frames()) return std::nullopt;
  FrameSpan kept{full.first + frames, full.last - frames};
  if (vibrato) kept = whole_periods(series, full, kept, *vibrato);
  const double after_attack_s = static_cast<double>(kept.first - full.first) * series.hop_s;
  SteadyPart part{sounding_span(series, piece, full), spans_within(series, piece, kept), after_attack_s,
                  std::min(scoop_cents_usual, most_scoop_cents(series, full.first, kept)), vibrato};
  return part.spans.empty() ? std::nullopt : std::optional(part);
}

}  // namespace windway
