// SPDX-License-Identifier: GPL-3.0-or-later
#include "holds/steady.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace windway {

namespace {

constexpr double beside_s = 0.1;            // an edge frame is judged by this much of the hold beside it
constexpr double level_short_db = 1.0;      // it may be this much softer than that
constexpr double noise_short_db = 2.0;      // and have this much less breath noise: in a room the noise tells the end
constexpr double pitch_off_cents = 12.0;
constexpr double margin_share = 0.06;       // of the hold, cut off besides: scoops and falls are longer than ramps
constexpr double margin_most_s = 0.08;
constexpr double margin_least_s = 0.01;
constexpr double beside_break_s = 0.03;     // left out on either side of a break
constexpr double usual_ramp_s = 0.13;       // of a tongued attack or a release, with the window's own length
constexpr double ramp_under_db = 15.0;      // under the hold's median level no frame is steady, swells included
constexpr double sounding_under_db = 20.0;  // the hold's ends lie this far under its median level

double median_of(const std::vector<double>& values, std::size_t first, std::size_t last) {
  std::vector<double> part(values.begin() + static_cast<long>(first), values.begin() + static_cast<long>(last) + 1);
  const auto middle = part.begin() + static_cast<long>(part.size() / 2);
  std::nth_element(part.begin(), middle, part.end());
  return *middle;
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

/// Frames to leave out at the end that `inwards` starts from: its attack or release.
std::size_t ramp_frames(const Inwards& inwards, double hop_s) {
  const auto beside = static_cast<std::size_t>(std::lround(beside_s / hop_s));
  const double floor_db = median_of(inwards.level_db, 0, inwards.level_db.size() - 1) - ramp_under_db;
  std::size_t k = 0;
  while (k + 2 < inwards.level_db.size() && (inwards.level_db[k] < floor_db || !inwards.is_full_at(k, beside))) ++k;
  return k;
}

/// The margin after a ramp: an attack longer than usual (a room filling) has used up some of it.
std::size_t margin_frames(std::size_t frames, std::size_t ramp, double hop_s) {
  const double share_s = margin_share * static_cast<double>(frames) * hop_s;
  const double used_s = std::max(0.0, static_cast<double>(ramp) * hop_s - usual_ramp_s);
  return static_cast<std::size_t>(
      std::lround(std::clamp(share_s - used_s, margin_least_s, margin_most_s) / hop_s));
}

std::vector<FrameSpan> spans_within(const Piece& piece, const FrameSpan& limits, double hop_s) {
  const auto beside = static_cast<std::size_t>(std::lround(beside_break_s / hop_s));
  std::vector<FrameSpan> spans;
  for (const FrameSpan& s : piece.spans) {
    const std::size_t first = s.first == piece.first() ? s.first : s.first + beside;
    const std::size_t last = s.last == piece.last() ? s.last : s.last - std::min(s.last, beside);
    const FrameSpan kept{std::max(first, limits.first), std::min(last, limits.last)};
    if (kept.first + 2 <= kept.last) spans.push_back(kept);
  }
  return spans;
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
  const std::size_t attack = ramp_frames(Inwards(series, whole, false), series.hop_s);
  const std::size_t release = ramp_frames(Inwards(series, whole, true), series.hop_s);
  if (attack + release + 3 > whole.frames()) return std::nullopt;
  const FrameSpan full{whole.first + attack, whole.last - release};
  const std::size_t after_attack = margin_frames(full.frames(), attack, series.hop_s);
  const std::size_t before_release = margin_frames(full.frames(), 0, series.hop_s);
  if (after_attack + before_release + 3 > full.frames()) return std::nullopt;
  SteadyPart part{sounding_span(series, piece, full),
                  spans_within(piece, {full.first + after_attack, full.last - before_release}, series.hop_s)};
  return part.spans.empty() ? std::nullopt : std::optional(part);
}

}  // namespace windway
