// SPDX-License-Identifier: GPL-3.0-or-later
#include "holds/steady.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <span>

#include "holds/vibrato.hpp"
#include "units/order_statistics.hpp"
#include "units/units.hpp"

namespace windway {

namespace {

constexpr double beside_s = 0.1;          // an edge frame is judged by this much of the hold beside it
constexpr double level_short_db = 1.0;    // it may be this much softer than that
constexpr double noise_short_db = 2.0;    // and have this much less breath noise: in a room the noise tells the end
constexpr double pitch_off_cents = 30.0;  // more than a vibrato moves it
constexpr double settles_share = 0.09;    // of the hold: what may be left out at an end while the pitch settles
constexpr double least_unsettled_cents = 0.8;
constexpr double unsettled_times = 4.0;  // what frames within the hold usually differ by
constexpr double margin_share = 0.06;    // of the hold, cut off besides: scoops and falls are longer than ramps
constexpr double margin_most_s = 0.08;
constexpr double margin_least_s = 0.01;
constexpr double beside_break_s = 0.03;  // left out on either side of a break
// Of the hold. Four periods that just miss a fifth fill 0.75 of it, and 0.7 of what is steady is to be kept.
constexpr double least_whole_periods_share = 0.72;
constexpr double longest_attack_share = 0.18;  // of the hold
// Of the sounding. Of 34,000 true holds none had less than 0.44; the way into a note through another's echo has.
constexpr double least_steady_share = 0.25;
constexpr std::size_t full_in_a_row = 3;  // frames at full strength before it counts: in an echo one may be by chance
constexpr double echo_falls_db_per_s = 15.0;        // 60 dB in 4 s
constexpr double echo_noise_falls_db_per_s = 25.0;  // over a short span noise scatters
constexpr double sounds_on_share = 0.7;             // of the frames before; in noise a third seem tonal
constexpr double slide_span_s = 0.2;  // over a longer one a vibrato cannot be taken for a slide, nor a slide stand
constexpr double usual_scoop_s = 0.03;
constexpr double scoop_cents_usual = 5.0;   // where the tone is just full: a guess, where the margin does not tell
constexpr double usual_ramp_s = 0.13;       // of a tongued attack or a release, with the window's own length
constexpr double ramp_under_db = 15.0;      // under the hold's median level no frame is steady, swells included
constexpr double sounding_under_db = 20.0;  // the hold's ends lie this far under its median level

double median_of(const std::vector<double>& values, std::size_t first, std::size_t last) {
  return *windway::median_of({values.begin() + static_cast<long>(first), values.begin() + static_cast<long>(last) + 1});
}

double mean_of(const std::vector<double>& values, std::size_t first, std::size_t count) {
  const auto from = values.begin() + static_cast<long>(first);
  return std::accumulate(from, from + static_cast<long>(count), 0.0) / static_cast<double>(count);
}

/// A span read from one of its ends inwards, so that attack and release are one case.
struct Inwards {
  std::vector<double> level_db, noise_db, cents;

  Inwards(const FrameSeries& series, const FrameSpan& span, bool from_end) {
    for (std::size_t k = 0; k < span.frames(); ++k) {
      const std::size_t i = from_end ? span.last - k : span.first + k;
      level_db.push_back(series.level_db[i]);
      noise_db.push_back(series.noise_db[i]);
      cents.push_back(series.cents[i].value_or(cents.empty() ? 0.0 : cents.back()));
    }
  }

  bool is_full_at(std::size_t k, std::size_t beside) const {
    const std::size_t last = std::min(k + beside, level_db.size() - 1);
    return level_db[k] > median_of(level_db, k + 1, last) - level_short_db && noise_is_full_at(k, beside) &&
           std::abs(cents[k] - median_of(cents, k + 1, last)) < pitch_off_cents;
  }

  /// Noise scatters from frame to frame: means are compared, over times far enough apart to show a room's decay.
  bool noise_is_full_at(std::size_t k, std::size_t beside) const {
    const std::size_t half = beside / 2;
    if (k + 2 * beside > noise_db.size()) return true;
    return mean_of(noise_db, k, half) > mean_of(noise_db, k + beside - half / 2, beside) - noise_short_db;
  }
};

/// Frames to leave out at the end that `inwards` starts from: its attack or release. Of an attack, `patience` frames at
/// most: a room may go on filling long after it.
std::size_t ramp_frames(const Inwards& inwards, double hop_s, std::size_t patience) {
  const auto beside = static_cast<std::size_t>(std::lround(beside_s / hop_s));
  const double floor_db = median_of(inwards.level_db, 0, inwards.level_db.size() - 1) - ramp_under_db;
  std::size_t full = 0;  // frames in a row
  std::size_t k = 0;
  for (; k + 2 < inwards.level_db.size() && full < full_in_a_row; ++k) {
    const bool full_here = inwards.level_db[k] >= floor_db && inwards.is_full_at(k, beside);
    full = full_here || k >= patience ? full + 1 : 0;
  }
  return k - full;
}

/// The margin beside a ramp, less what has been left out of it already.
std::size_t margin_frames(std::size_t frames, std::size_t used, double hop_s) {
  const double share_s = margin_share * static_cast<double>(frames) * hop_s - static_cast<double>(used) * hop_s;
  return static_cast<std::size_t>(std::lround(std::clamp(share_s, margin_least_s, margin_most_s) / hop_s));
}

std::vector<double> cents_of(const FrameSeries& series, const FrameSpan& span) {
  return Inwards(series, span, false).cents;
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
  const auto beside = static_cast<std::size_t>(std::lround(beside_break_s / series.hop_s));
  std::vector<FrameSpan> spans;
  for (const FrameSpan& s : piece.spans) {
    const std::size_t first = s.first == piece.first() ? s.first : s.first + beside;
    const std::size_t last = s.last == piece.last() ? s.last : s.last - std::min(s.last, beside);
    const FrameSpan kept{std::max(first, limits.first), std::min(last, limits.last)};
    if (kept.first + 2 <= kept.last && !slides(series, kept)) spans.push_back(kept);
  }
  return spans;
}

/// Leaves out what is left of a scoop or a fall at the ends: frames that stand farther off the frames beside them than
/// frames within the hold do.
FrameSpan settled_span(const FrameSeries& series, const FrameSpan& full) {
  const auto beside = static_cast<std::size_t>(std::lround(beside_s / series.hop_s));
  const auto most = static_cast<std::size_t>(settles_share * static_cast<double>(full.frames()));
  const auto unsettled_frames = [&](const std::vector<double>& cents) {
    const std::vector<double> beside_cents = running_medians(std::span(cents).subspan(1), beside);
    std::vector<double> off;
    for (std::size_t k = 0; k < beside_cents.size(); ++k) off.push_back(std::abs(cents[k] - beside_cents[k]));
    if (off.size() <= 2 * most) return std::size_t{0};
    const double usual = median_of(off, most, off.size() - 1);
    std::size_t k = 0;
    while (k < most && off[k] > std::max(least_unsettled_cents, unsettled_times * usual)) ++k;
    return k;
  };
  const std::size_t first = unsettled_frames(Inwards(series, full, false).cents);
  const std::size_t last = unsettled_frames(Inwards(series, full, true).cents);
  return {full.first + first, full.last - last};
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
  const double hop_s = series.hop_s;
  const auto margin = static_cast<std::size_t>(std::lround(2.0 * margin_least_s / hop_s));
  if (full.frames() <= 2 * margin + 1) return kept;
  const double room_s = static_cast<double>(full.frames() - 1 - 2 * margin) * hop_s;
  const double periods = std::floor(room_s * vibrato_hz);
  if (periods / vibrato_hz < least_whole_periods_share * static_cast<double>(full.frames()) * hop_s) return kept;
  const auto length = static_cast<std::size_t>(std::lround(periods / vibrato_hz / hop_s));
  const std::size_t middle = (kept.first + kept.last) / 2;
  const auto quarter_period = static_cast<std::size_t>(std::ceil(0.25 / vibrato_hz / hop_s));
  return ending_at_mean(series, {full.first + margin, full.last - margin}, length + 1,
                        middle - std::min(middle, length / 2), quarter_period);
}

/// Standard error of slope_per_s, from what the values scatter about the line; neighbours share their windows' samples,
/// so the scatter is taken for a first-order autoregression.
double slope_error_per_s(const std::vector<double>& values, const FrameSpan& span, double hop_s) {
  const double slope = slope_per_s(values, span, hop_s) * hop_s;
  const auto n = static_cast<double>(span.frames());
  const double mean = mean_of(values, span.first, span.frames());
  double squares = 0;
  double products = 0;
  double before = 0;
  for (std::size_t i = span.first; i <= span.last; ++i) {
    const double off = values[i] - mean - slope * (static_cast<double>(i - span.first) - (n - 1.0) / 2.0);
    squares += off * off;
    products += off * before;
    before = off;
  }
  const double correlation = squares > 0 ? std::clamp(products / squares, 0.0, 0.9) : 0.0;
  const double variance = squares / std::max(1.0, n - 2.0) * (1.0 + correlation) / (1.0 - correlation);
  return std::sqrt(variance / (n * (n * n - 1.0) / 12.0)) / hop_s;
}

/// Breath keeps a note up; an echo dies away, its tone and its noise, and the noise more evenly. In a room a blown tone
/// may fall by itself as its own echoes meet it, while the breath is heard to go on.
bool dies_away(const FrameSeries& series, const FrameSpan& span) {
  constexpr double breath_changes_db_per_s = 7.5;  // at most, where it goes on; a syllable's changes faster
  constexpr double blown_falls_db_per_s = 30.0;    // as far as echoes bring a blown tone down
  const FrameSpan after_chiff{span.first + std::min<std::size_t>(span.frames() / 3, 4), span.last};
  const double noise_slope = slope_per_s(series.noise_db, after_chiff, series.hop_s);
  const double error = slope_error_per_s(series.noise_db, after_chiff, series.hop_s);
  if (noise_slope < -echo_noise_falls_db_per_s - 2.0 * error) return true;
  const bool heard = median_of(series.noise_db, span.first, span.last) > series.quiet_noise_db + breath_heard_db;
  const bool breath_goes_on = heard && std::abs(noise_slope) < breath_changes_db_per_s;
  return slope_per_s(series.level_db, span, series.hop_s) <
         -(breath_goes_on ? blown_falls_db_per_s : echo_falls_db_per_s);
}

/// Does a piece come out of another note's sound without a gap, by a slur or out of its echo? Its own scoop is then
/// over.
bool takes_over(const FrameSeries& series, const Piece& piece) {
  const auto before = static_cast<std::size_t>(beside_s / series.hop_s);
  if (piece.first() < before) return false;
  const auto first = series.cents.begin() + static_cast<long>(piece.first());
  const auto tonal =
      std::count_if(first - static_cast<long>(before), first, [](const auto& c) { return c.has_value(); });
  return static_cast<double>(tonal) > sounds_on_share * static_cast<double>(before);
}

/// What a scoop may have been at the beginning of a margin that starts at frame `from` and ends at the steady part: how
/// far the margin's frames stand off the steady ones beside them, and how surely that is told.
double most_scoop_cents(const FrameSeries& series, std::size_t from, const FrameSpan& kept) {
  if (kept.first <= from) return scoop_cents_usual;
  const auto beside = static_cast<std::size_t>(std::lround(beside_s / series.hop_s));
  const std::size_t last = std::min(kept.first + beside - 1, kept.last);
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

double steady_share(const SteadyPart& part) {
  std::size_t frames = 0;
  for (const FrameSpan& span : part.spans) frames += span.frames();
  return static_cast<double>(frames) / static_cast<double>(part.sounding.frames());
}

}  // namespace

std::optional<SteadyPart> steady_part(const FrameSeries& series, const Piece& piece) {
  const FrameSpan whole{piece.first(), piece.last()};
  const double duration_s = static_cast<double>(whole.frames()) * series.hop_s;
  const bool taken_over = takes_over(series, piece);
  const double patience_s = taken_over ? usual_scoop_s : std::max(usual_ramp_s, longest_attack_share * duration_s);
  const auto patience = static_cast<std::size_t>(patience_s / series.hop_s);
  const std::size_t attack = ramp_frames(Inwards(series, whole, false), series.hop_s, patience);
  const std::size_t release = ramp_frames(Inwards(series, whole, true), series.hop_s, whole.frames());
  if (attack + release + 3 > whole.frames()) return std::nullopt;
  const FrameSpan ramped{whole.first + attack, whole.last - release};
  const FrameSpan full = settled_span(series, ramped);
  // An attack longer than usual is a room that fills; the scoop is over by then.
  const auto usual = static_cast<std::size_t>(usual_ramp_s / series.hop_s);
  const std::size_t filling = attack - std::min(attack, usual);
  const std::size_t used = (full.first - ramped.first) / 2 + filling + (taken_over ? patience : 0);
  const std::size_t after_attack = margin_frames(full.frames(), used, series.hop_s);
  const std::size_t before_release = margin_frames(full.frames(), (ramped.last - full.last) / 2, series.hop_s);
  if (after_attack + before_release + 3 > full.frames()) return std::nullopt;
  FrameSpan kept{full.first + after_attack, full.last - before_release};
  const auto vibrato = piece.spans.size() == 1 ? vibrato_hz(cents_of(series, kept), series.hop_s) : std::nullopt;
  if (vibrato) kept = whole_periods(series, full, kept, *vibrato);
  const double after_attack_s = static_cast<double>(kept.first - ramped.first) * series.hop_s;
  SteadyPart part{sounding_span(series, piece, full), spans_within(series, piece, kept), after_attack_s,
                  std::min(scoop_cents_usual, most_scoop_cents(series, ramped.first, kept)), vibrato};
  if (part.spans.empty() || steady_share(part) < least_steady_share) return std::nullopt;
  const auto longest = std::max_element(part.spans.begin(), part.spans.end(),
                                        [](const FrameSpan& a, const FrameSpan& b) { return a.frames() < b.frames(); });
  return dies_away(series, *longest) ? std::nullopt : std::optional(part);
}

}  // namespace windway
