// SPDX-License-Identifier: GPL-3.0-or-later
#include "holds/sudden_ends.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <utility>

#include "holds/steady_tone.hpp"
#include "pitch/spectrum.hpp"

namespace windway {

namespace {

using Complex = std::complex<double>;

constexpr double two_pi = 2.0 * std::numbers::pi;
constexpr double least_inside = 0.1;     // of a window: what lies nearer to the end adds a hundredth to what is known
constexpr double part_heard_most = 0.9;  // of the tone's amplitude: with more the end cannot be placed
constexpr double part_heard_least = 0.2;
constexpr double agrees_within_sd = 3.0;
constexpr std::size_t least_frames = 8;  // to know the tone by

Complex turn(double rad) { return std::polar(1.0, rad); }

/// Integral of e^(2 pi i v u) over u from -inside to one half.
Complex integral(double v, double inside) {
  if (std::abs(v) < 1e-9) return 0.5 + inside;
  return (turn(std::numbers::pi * v) - turn(-two_pi * v * inside)) / Complex(0.0, two_pi * v);
}

/// One end of a span, either way round.
struct End {
  const PitchTrack& track;
  const SteadyTone& tone;
  bool at_start;

  double offset_s(std::size_t frame) const { return track.time_s(frame) - tone.at_s; }

  /// What the bin nearest to a harmonic should show, the whole tone with its images counted.
  Complex expected(std::size_t frame, std::size_t bin, double inside) const {
    Complex sum = 0;
    for (const auto& h : tone.harmonics) {
      const double place = h.number * tone.hz * tone.window_s;
      const auto k = static_cast<double>(bin);
      const Complex value = std::polar(h.amplitude, h.phase_rad + two_pi * h.number * tone.hz * offset_s(frame));
      sum += value * heard(place - k, inside) + std::conj(value) * heard(-place - k, inside);
    }
    return sum;
  }
  Complex heard(double offset_bins, double inside) const {
    const Complex part = heard_part(offset_bins, inside);
    return at_start ? part : std::conj(part);
  }
  struct Seen {
    std::size_t bin;
    Complex value;
  };
  /// What that bin does show.
  Seen seen(std::size_t frame, int number) const {
    const Tone& t = *track.frames[frame].tone;
    const auto h = static_cast<std::size_t>(number - 1);
    const double place = number * static_cast<double>(t.f0_hz) * tone.window_s;
    const std::size_t bin = nearest_bin(place);
    return {bin, std::polar(t.amplitude[h] * hann_lobe(place - static_cast<double>(bin)),
                            static_cast<double>(t.phase_rad[h]))};
  }
  Complex seen_over_expected(std::size_t frame, int number, double inside) const {
    const Seen s = seen(frame, number);
    return s.value / expected(frame, s.bin, inside);
  }
};

int strongest_number(const SteadyTone& tone) {
  return std::max_element(tone.harmonics.begin(), tone.harmonics.end(),
                          [](const auto& a, const auto& b) { return a.amplitude < b.amplitude; })
      ->number;
}

/// What all harmonics of a frame are off what is expected of them, for an end at `inside`.
double misfit(const End& end, std::size_t frame, double inside) {
  double sum = 0;
  for (const auto& h : end.tone.harmonics) {
    sum += std::norm(end.seen_over_expected(frame, h.number, inside) - 1.0) / h.variance_rad2;
  }
  return sum;
}

/// The side lobes of a cut tone turn with the place of the cut as fast as the tone itself does: by them all harmonics
/// place it more closely.
double refined_end(const End& end, std::size_t frame, double inside) {
  double step = 0.125 / (end.tone.hz * end.tone.window_s);
  double best = misfit(end, frame, inside);
  for (int i = 0; i < 24; ++i) {
    const double up = misfit(end, frame, inside + step);
    const double down = misfit(end, frame, inside - step);
    if (std::min(up, down) < best) {
      inside += up < down ? step : -step;
      best = std::min(up, down);
    } else {
      step /= 2.0;
    }
  }
  return inside;
}

/// Where the tone's end lies from a frame's middle, outwards, in windows, by how much of the tone the frame holds.
std::optional<double> end_beside(const End& end, std::size_t frame) {
  const int number = strongest_number(end.tone);
  const End::Seen seen = end.seen(frame, number);
  const double whole = std::abs(end.expected(frame, seen.bin, 0.5));
  const double part = std::abs(seen.value) / whole;
  if (part < part_heard_least || part > part_heard_most) return std::nullopt;
  double low = -0.4;
  double high = 0.5;
  for (int i = 0; i < 30; ++i) {
    const double middle = 0.5 * (low + high);
    (std::abs(end.expected(frame, seen.bin, middle)) < std::abs(seen.value) ? low : high) = middle;
  }
  return refined_end(end, frame, high);
}

/// How far the phase of a frame, by all harmonics together, is off what is expected of it.
double off_rad(const End& end, std::size_t frame, double inside) {
  double sum = 0;
  double weights = 0;
  for (const auto& h : end.tone.harmonics) {
    const double weight = h.number * h.number / h.variance_rad2;
    sum += weight * std::arg(end.seen_over_expected(frame, h.number, inside)) / h.number;
    weights += weight;
  }
  return sum / weights;
}

struct EndFrame {
  std::size_t frame;
  double inside;
};

/// Frames beyond the span that still hold the steady tone, from the nearest on.
std::vector<EndFrame> frames_beyond(const End& end, const FrameSpan& span, const FrameSpan& limits) {
  const std::size_t room = end.at_start ? span.first - limits.first : limits.last - span.last;
  const auto frame_at = [&](std::size_t k) { return end.at_start ? span.first - k : span.last + k; };
  const double hop = end.track.hop_s / end.track.window_s;
  std::optional<double> inside_of_first;  // of the frame next to the span
  for (std::size_t k = 1; k <= room && !inside_of_first; ++k) {
    if (const auto beside = end_beside(end, frame_at(k))) inside_of_first = *beside + static_cast<double>(k - 1) * hop;
  }
  std::vector<EndFrame> frames;
  if (!inside_of_first) return frames;
  for (std::size_t k = 1; k <= room; ++k) {
    const double inside = std::min(0.5, *inside_of_first - static_cast<double>(k - 1) * hop);
    if (inside < least_inside) break;
    const double heard = std::abs(heard_part(0.0, inside));
    const double time_s = end.track.time_s(frame_at(k));
    const double sd_rad = std::sqrt(end.tone.frame_rad2 / (heard * heard) + end.tone.variance_rad2(time_s));
    if (std::abs(off_rad(end, frame_at(k), inside)) > agrees_within_sd * sd_rad) break;
    frames.push_back({frame_at(k), inside});
  }
  return frames;
}

void add_frame(PhaseCurves& curves, const End& end, const EndFrame& at) {
  const double turned_rad = two_pi * (end.tone.hz - curves.reference_hz) * end.offset_s(at.frame);
  for (std::size_t i = 0; i < curves.harmonics.size(); ++i) {
    const SteadyTone::Harmonic& known = end.tone.harmonics[i];
    const double off_rad = std::arg(end.seen_over_expected(at.frame, known.number, at.inside)) / known.number;
    auto& phase = curves.harmonics[i].phase_rad;
    phase.insert(end.at_start ? phase.begin() : phase.end(), known.curve_rad + turned_rad + off_rad);
  }
  auto& share = curves.window_share;
  share.insert(end.at_start ? share.begin() : share.end(), std::abs(heard_part(0.0, at.inside)));
  ++curves.frames;
}

PhaseCurves without_ends(const PhaseCurves& curves) {
  PhaseCurves inner = curves;
  inner.frames -= 2;
  for (auto& h : inner.harmonics) h.phase_rad = {h.phase_rad.begin() + 1, h.phase_rad.end() - 1};
  inner.window_share = {inner.window_share.begin() + 1, inner.window_share.end() - 1};
  return inner;
}

}  // namespace

std::complex<double> heard_part(double offset_bins, double inside) {
  return integral(offset_bins, inside) +
         0.5 * (integral(offset_bins + 1.0, inside) + integral(offset_bins - 1.0, inside));
}

WidenedSpan widened(const PitchTrack& track, const FrameSpan& span, const FrameSpan& limits, PhaseCurves curves) {
  if (span.frames() < least_frames) return {span, std::move(curves)};
  // The outermost frames may hold a little of what lies beyond the end; they are judged as those farther out are.
  WidenedSpan wide{{span.first + 1, span.last - 1}, without_ends(curves)};
  const SteadyTone tone = steady_tone(track, wide.span, wide.curves);
  if (!is_steady(tone, wide.curves)) return {span, std::move(curves)};
  for (const bool at_start : {true, false}) {
    const End end{track, tone, at_start};
    const std::vector<EndFrame> frames = frames_beyond(end, wide.span, limits);
    for (const EndFrame& frame : frames) add_frame(wide.curves, end, frame);
    (at_start ? wide.first_is_sudden : wide.last_is_sudden) = frames.size() > 1;
    if (at_start) {
      wide.span.first -= frames.size();
    } else {
      wide.span.last += frames.size();
    }
  }
  return wide;
}

}  // namespace windway
