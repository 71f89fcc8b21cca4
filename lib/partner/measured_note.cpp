// SPDX-License-Identifier: GPL-3.0-or-later
#include "partner/measured_note.hpp"

#include <algorithm>
#include <cmath>

#include "partner/partial_line.hpp"
#include "units/units.hpp"

namespace windway {

namespace {

constexpr double too_near_hz = 25.0;   // windows of a tenth of a second tell lines apart that are further
constexpr double too_near_db = -35.0;  // a line softer than that does no harm
constexpr double least_overlap = 0.1;  // of the note's own time
constexpr double most_u95_cents = 10.0;

/// A partial with its number.
struct NumberedLine {
  int number = 1;
  PartialLine line;
};

double overlap_s(const Sounding& one, const Sounding& other) {
  return std::min(one.end_s, other.end_s) - std::max(one.start_s, other.start_s);
}

/// Whether another note that sounds with this one has a partial too near this one's partial to tell them apart.
bool is_crowded(const Sounding& own, const SpectralPeak& partial, const std::vector<Sounding>& all) {
  const auto crowds = [&](const Sounding& other) {
    if (&other == &own || overlap_s(own, other) < least_overlap * (own.end_s - own.start_s)) return false;
    return std::ranges::any_of(other.partials, [&](const auto& line) {
      return line && std::abs(line->hz - partial.hz) < too_near_hz &&
             line->power > partial.power * power_from_db(too_near_db);
    });
  };
  return std::ranges::any_of(all, crowds);
}

std::vector<NumberedLine> lines_of(const Sounding& sounding, const PartialStretch& stretch,
                                   const std::vector<Sounding>& all) {
  std::vector<NumberedLine> lines;
  for (std::size_t i = 0; i < most_partials; ++i) {
    const auto& partial = sounding.partials[i];
    if (!partial || is_crowded(sounding, *partial, all)) continue;
    if (const auto line = measure_partial(stretch, partial->hz, sounding.first_hz()))
      lines.push_back({static_cast<int>(i) + 1, *line});
  }
  return lines;
}

bool is_split_by(const NumberedLine& partial, double beat_hz) {
  constexpr double tolerance = 0.15;
  return partial.line.split && std::abs(partial.line.split->apart_hz / (partial.number * beat_hz) - 1.0) < tolerance;
}

/// How far apart the first partials of two reeds stand: the first is split in two further than a piano's strings would
/// be, or another partial is split as much more as its number says. Empty where there is one reed only, or the beat is
/// as slow as that of a piano's three strings.
std::optional<double> beat_of(const std::vector<NumberedLine>& lines) {
  constexpr double slowest_hz = 0.8;
  constexpr double no_piano_hz = 2.0;
  constexpr double no_piano_cents = 6.0;
  if (lines.empty() || lines[0].number > 1 || !lines[0].line.split) return std::nullopt;
  const SplitLine& first = *lines[0].line.split;
  const auto agrees = [&](const NumberedLine& line) { return line.number > 1 && is_split_by(line, first.apart_hz); };
  const double apart_cents = cents_between(first.middle_hz, first.middle_hz + first.apart_hz);
  if (first.is_pair && first.apart_hz >= no_piano_hz && apart_cents >= no_piano_cents) return first.apart_hz;
  if (first.apart_hz < slowest_hz || std::ranges::none_of(lines, agrees)) return std::nullopt;
  return first.apart_hz;
}

double waver_u95_cents(const PartialLine& line) {
  return normal_u95_factor * cents_per_neper * line.waver_hz / line.hz;
}

std::optional<StiffString> pitch_of(const std::vector<NumberedLine>& lines, const std::optional<double>& beat_hz,
                                    double length_s) {
  std::vector<PartialFrequency> partials;
  if (!beat_hz) {
    for (const auto& [number, line] : lines) partials.push_back({number, line.hz, line.sd_hz});
    auto string = fit_stiff_string(partials);
    if (string) string->first_u95_cents = std::hypot(string->first_u95_cents, waver_u95_cents(lines.front().line));
    return string;
  }
  // How exactly the top of a line two and a half lobes or more from its neighbour is found: found by trial.
  constexpr double of_lobe = 0.03;
  for (const NumberedLine& partial : lines)
    if (is_split_by(partial, *beat_hz))
      partials.push_back({partial.number, partial.line.split->middle_hz, of_lobe / length_s});
  return partials.size() > 2 ? fit_stiff_string(partials) : fit_harmonics(partials);
}

}  // namespace

std::vector<MeasuredNote> measured_notes(std::span<const float> samples, double rate_hz,
                                         const std::vector<Sounding>& soundings) {
  std::vector<MeasuredNote> notes;
  for (const Sounding& sounding : soundings) {
    const double length_s = sounding.end_s - sounding.start_s;
    const PartialStretch stretch{samples, rate_hz, sounding.start_s, sounding.end_s};
    const std::vector<NumberedLine> lines = lines_of(sounding, stretch, soundings);
    const auto beat_hz = beat_of(lines);
    const auto string = pitch_of(lines, beat_hz, length_s);
    if (!string || string->first_u95_cents > most_u95_cents) continue;
    notes.push_back({*string, beat_hz, sounding.start_s, length_s});
  }
  return notes;
}

}  // namespace windway
