// SPDX-License-Identifier: GPL-3.0-or-later
#include "holds/holds.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <span>

#include "holds/mean_frequency.hpp"
#include "holds/room.hpp"
#include "holds/source.hpp"
#include "holds/turned_down.hpp"
#include "segmentation/segmentation.hpp"
#include "segmentation/steady.hpp"
#include "units/order_statistics.hpp"
#include "units/units.hpp"

namespace windway {

namespace {

struct Measured {
  SteadyPart part;
  std::vector<PhaseCurves> curves;  ///< by span
};

double reference_hz(const PitchTrack& track, const std::vector<FrameSpan>& spans) {
  double sum = 0;
  std::size_t count = 0;
  for (const FrameSpan& span : spans) {
    for (std::size_t i = span.first; i <= span.last; ++i, ++count) sum += track.frames[i].tone->f0_hz;
  }
  return sum / static_cast<double>(count);
}

double colour_db(const Tone& tone) {
  double power = 0;
  for (std::size_t h = 1; h < tone.amplitude.size(); ++h) power += tone.amplitude[h] * tone.amplitude[h];
  const double fundamental = tone.amplitude[0] * tone.amplitude[0];
  constexpr double least_share = 1e-8;  // - 80 dB: no harmonics to speak of
  return db_from_power(std::max(power / std::max(fundamental, 1e-20), least_share));
}

/// Deviation of a curve's first point from the median of the tenth of a second after it, in excess of the 90th
/// percentile of such deviations within the curve, cents: the rest of a scoop or, read backwards, of a fall.
double unsettled_cents(const std::vector<double>& cents) {
  const std::size_t after = std::min<std::size_t>(10, cents.size() / 3);
  if (after < 3) return 0.0;
  const std::vector<double> expected_cents = running_medians(std::span(cents).subspan(1), after);
  const auto off = [&](std::size_t k) { return std::abs(cents[k] - expected_cents[k]); };
  std::vector<double> within;
  for (std::size_t k = std::min(after / 2, cents.size() - after - 1); k < expected_cents.size(); ++k)
    within.push_back(off(k));
  return std::max(0.0, off(0) - value_of_rank(within, 9 * within.size() / 10));
}

/// Uncertainty of the mean because the steady part's extent is uncertain: its ends are known to a millisecond or so, a
/// scoop or fall may reach into it, and the parts left out as broken may deviate from the mean as the rest does.
double extent_u95_cents(const Hold& hold, const Measured& measured, double measured_s) {
  constexpr double end_error_s = 0.002;  // of means between them on a grid of 5 ms, 8 in 10 keep within it
  std::vector<double> off_cents;
  for (const HoldPoint& p : hold.curve) off_cents.push_back(cents_between(hold.frequency_hz, p.f0_hz));
  const double ends_cents = std::hypot(off_cents.front(), off_cents.back());
  const double squares = std::inner_product(off_cents.begin(), off_cents.end(), off_cents.begin(), 0.0);
  const double sd_cents = std::sqrt(squares / static_cast<double>(off_cents.size()));
  const double scoop_cents = unsettled_cents(off_cents);
  std::reverse(off_cents.begin(), off_cents.end());
  const double unsettled = std::hypot(scoop_cents, unsettled_cents(off_cents));
  const double broken_s = std::max(0.0, hold.steady_end_s - hold.steady_start_s - measured_s);
  const double unseen = measured.part.scoop_cents * std::exp(-measured.part.after_attack_s / scoop_settles_s);
  const double edges_cents = (end_error_s * ends_cents + scoop_settles_s * std::hypot(unsettled, unseen)) / measured_s;
  return std::hypot(edges_cents, normal_u95_factor * sd_cents * broken_s / (measured_s + broken_s));
}

/// The frequency of the mean pitch in cents, from the mean in hertz: a little lower where the pitch moves along the
/// curve.
double mean_in_cents_hz(const std::vector<HoldPoint>& curve, double mean_hz) {
  double hz = 0;
  double cents = 0;
  for (const HoldPoint& p : curve) {
    hz += p.f0_hz;
    cents += cents_between(mean_hz, p.f0_hz);
  }
  const auto n = static_cast<double>(curve.size());
  return hz_at_cents(mean_hz, cents / n - cents_between(mean_hz, hz / n));
}

/// SD of the pitch over the curve.
double wander_cents(const std::vector<HoldPoint>& curve, double mean_hz) {
  double squares = 0;
  for (const HoldPoint& p : curve) squares += std::pow(cents_between(mean_hz, p.f0_hz), 2);
  return std::sqrt(squares / static_cast<double>(curve.size()));
}

void add_frequency(Hold& hold, const PitchTrack& track, const Measured& measured, double room_rad2) {
  double hz_s = 0;
  double variance = 0;
  double duration_s = 0;
  std::size_t frames = 0;
  for (const FrameSpan& span : measured.part.spans) frames += span.frames();
  hold.curve.reserve(frames);
  for (std::size_t s = 0; s < measured.curves.size(); ++s) {
    const FrameSpan& span = measured.part.spans[s];
    const MeanFrequency mean = mean_frequency(measured.curves[s], room_rad2);
    const double span_s = static_cast<double>(span.frames() - 1) * track.hop_s;
    hz_s += mean.hz * span_s;
    variance += mean.sd_hz * mean.sd_hz * span_s * span_s;
    duration_s += span_s;
    for (std::size_t i = 0; i < span.frames(); ++i) {
      hold.curve.push_back({track.time_s(span.first + i), mean.curve_hz[i], 0.0F, 0.0F});
    }
  }
  hold.frequency_hz = mean_in_cents_hz(hold.curve, hz_s / duration_s);
  hold.wander_cents = wander_cents(hold.curve, hold.frequency_hz);
  const double noise_u95_cents =
      normal_u95_factor * cents_per_neper * std::sqrt(variance) / duration_s / hold.frequency_hz;
  hold.frequency_u95_cents = std::hypot(noise_u95_cents, extent_u95_cents(hold, measured, duration_s));
}

void add_levels(Hold& hold, const PitchTrack& track, const FrameSeries& series, const Measured& measured) {
  std::size_t point = 0;
  for (const FrameSpan& span : measured.part.spans) {
    for (std::size_t i = span.first; i <= span.last; ++i, ++point) {
      hold.curve[point].level_db = static_cast<float>(series.level_db[i]);
      hold.curve[point].noise_db = track.frames[i].noise_db;
      hold.level_db += power_from_db(series.level_db[i]);
      hold.noise_db += power_from_db(track.frames[i].noise_db);
      hold.colour_db += colour_db(*track.frames[i].tone);
    }
  }
  const auto n = static_cast<double>(point);
  hold.level_db = db_from_power(hold.level_db / n);
  hold.noise_db = db_from_power(hold.noise_db / n);
  hold.colour_db /= n;
}

Hold hold_of(const PitchTrack& track, const FrameSeries& series, const Measured& measured, double room_rad2) {
  Hold hold;
  hold.start_s = track.time_s(measured.part.sounding.first);
  hold.end_s = track.time_s(measured.part.sounding.last);
  hold.steady_start_s = track.time_s(measured.part.spans.front().first);
  hold.steady_end_s = track.time_s(measured.part.spans.back().last);
  hold.vibrato_hz = measured.part.vibrato_hz;
  hold.register_break = measured.part.spans.size() > 1;
  hold.turned_down = turned_down_after(series, measured.part.spans.back());
  add_frequency(hold, track, measured, room_rad2);
  add_levels(hold, track, series, measured);
  hold.unexplained_share = unexplained_share(track, measured.part.spans);
  hold.octave_stretch_cents = octave_stretch_cents(measured.curves.front());
  return hold;
}

/// True if the pitch wanders farther than that of one blown note can, though slowly: a siren or a sweep.
bool roams(const FrameSeries& series, const std::vector<FrameSpan>& spans) {
  constexpr double farthest_cents = 110.0;  // a wide swell bends a note by some 60
  double low = 1e9;
  double high = -1e9;
  for (const FrameSpan& span : spans) {
    for (const std::size_t i : {span.first, (span.first + span.last) / 2, span.last}) {
      low = std::min(low, *series.cents[i]);
      high = std::max(high, *series.cents[i]);
    }
  }
  return high - low > farthest_cents;
}

/// Why a piece is no hold; empty: it is one.
std::optional<NotHeld> why_not_held(const PitchTrack& track, const FrameSeries& series,
                                    const std::optional<SteadyPart>& part, const HoldRules& rules) {
  if (!part || static_cast<double>(part->sounding.frames()) * track.hop_s < rules.min_hold_s) return NotHeld::too_short;
  if (reference_hz(track, part->spans) > rules.max_hz) return NotHeld::too_high;
  return roams(series, part->spans) ? std::optional(NotHeld::roaming) : std::nullopt;
}

/// The pieces that are holds, and where the others stand.
struct MeasuredPieces {
  std::vector<Measured> held;
  std::vector<LeftOut> left_out;
};

MeasuredPieces measured_pieces(const PitchTrack& track, const FrameSeries& series, const HoldRules& rules) {
  MeasuredPieces all;
  for (const Piece& piece : find_pieces(series)) {
    const auto part = steady_part(series, piece);
    if (const auto why = why_not_held(track, series, part, rules)) {
      all.left_out.push_back({0, track.time_s(piece.first()), track.time_s(piece.last()), *why});
      continue;
    }
    Measured& measured = all.held.emplace_back(Measured{*part, {}});
    const double hz = reference_hz(track, part->spans);
    for (const FrameSpan& span : part->spans) measured.curves.push_back(phase_curves(track, span, hz));
  }
  return all;
}

}  // namespace

BlownStretches holds_of_chapter(const PitchTrack& chapter, const HoldRules& rules) {
  const FrameSeries series = series_of(chapter);
  auto [pieces, left_out] = measured_pieces(chapter, series, rules);
  std::vector<std::vector<HarmonicGain>> gains;
  for (const Measured& m : pieces) {
    for (const PhaseCurves& curves : m.curves) gains.push_back(harmonic_gains(curves));
  }
  const double room_rad2 = room_phase_variance_rad2(gains);
  std::vector<Hold> holds;
  for (const Measured& m : pieces) holds.push_back(hold_of(chapter, series, m, room_rad2));
  return {std::move(holds), std::move(left_out)};
}

std::vector<LeftOut> stretches_of(const std::vector<Hold>& holds, NotHeld why) {
  std::vector<LeftOut> stretches;
  for (const Hold& hold : holds) stretches.push_back({hold.take, hold.start_s, hold.end_s, why});
  return stretches;
}

std::vector<LeftOut> left_out_of(const std::vector<LeftOut>& all, const std::vector<Hold>& kept) {
  std::vector<LeftOut> out;
  auto next = kept.begin();
  for (const LeftOut& each : all) {
    const bool is_kept = next != kept.end() && next->start_s == each.start_s;
    is_kept ? static_cast<void>(++next) : out.push_back(each);
  }
  return out;
}

std::vector<Hold> without_faint(std::vector<Hold> holds) {
  constexpr double faint_under_db = 30.0;  // under the loud ones; a flute's notes, soft to hard, lie within some 25 dB
  if (holds.empty()) return holds;
  std::vector<double> levels_db;
  for (const Hold& h : holds) levels_db.push_back(h.level_db);
  // The upper quartile: of a short take the whine may make half of what sounds.
  const double least_db = value_of_rank(levels_db, 3 * levels_db.size() / 4) - faint_under_db;
  std::erase_if(holds, [&](const Hold& h) { return h.level_db < least_db; });
  return holds;
}

}  // namespace windway
