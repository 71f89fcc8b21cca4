// SPDX-License-Identifier: GPL-3.0-or-later
#include "partner/chord.hpp"

#include <algorithm>
#include <cmath>

#include "units/units.hpp"

namespace windway {

namespace {

constexpr double lowest_hz = 75.0;
constexpr double highest_hz = 5000.0;
constexpr double no_lone_line_hz = 250.0;         // below it a lone line is a thump, not a note
constexpr int most_explained = 24;                // partials that belong to a note, though only the lower are measured
constexpr double most_stiffness = 3e-3;           // above the treble of small pianos (common practice, no source)
constexpr double place_error_hz = 0.9;            // of a line in one spectrum
constexpr double place_error_cents = 6.0;         // beside that
constexpr double softest_note_db = -28.0;         // against the loudest line
constexpr double most_above_first_db = 16.0;      // that a partial is stronger than the first
constexpr double most_above_first_high_db = 8.0;  // the same of the fifth and higher ones
constexpr double weak_first_db = -10.0;           // against its loudest: such a note must have its third partial too

/// Where partial n stands above n times the first, in cents, of a string of stiffness B.
double stretch_cents(int number, double stiffness) {
  const double n = number;
  return 0.5 * cents_per_neper * std::log((1.0 + stiffness * n * n) / (1.0 + stiffness));
}

/// Stiffness as one partial tells it, at least 0.
double stiffness_of(double first_hz, int number, double hz) {
  const double n = number;
  const double ratio = std::pow(hz / (n * first_hz), 2.0);
  return std::clamp((ratio - 1.0) / (n * n - ratio), 0.0, most_stiffness);
}

/// The strongest line from `low_hz` to `high_hz` of no more than `most_power`; null where there is none.
const SpectralPeak* strongest_within(const std::vector<SpectralPeak>& peaks, double low_hz, double high_hz,
                                     double most_power) {
  const SpectralPeak* strongest = nullptr;
  auto peak = std::ranges::lower_bound(peaks, low_hz, {}, &SpectralPeak::hz);
  for (; peak != peaks.end() && peak->hz <= high_hz; ++peak)
    if (peak->power <= most_power && (!strongest || peak->power > strongest->power)) strongest = &*peak;
  return strongest;
}

/// The lines that a string gives whose first partial is `first`, by number; null where there is none. Its stiffness is
/// learnt from the partials found, the next looked for there.
std::vector<const SpectralPeak*> lines_on(const SpectralPeak& first, const std::vector<SpectralPeak>& peaks) {
  std::vector<const SpectralPeak*> lines{&first};
  double least = 0.0;
  double most = most_stiffness;
  for (int number = 2; number <= most_explained; ++number) {
    const double at_hz = number * first.hz;
    const double slack_cents = place_error_cents + cents_between(at_hz, at_hz + number * place_error_hz);
    const double most_db = number > 4 ? most_above_first_high_db : most_above_first_db;
    const SpectralPeak* found = strongest_within(peaks, hz_at_cents(at_hz, stretch_cents(number, least) - slack_cents),
                                                 hz_at_cents(at_hz, stretch_cents(number, most) + slack_cents),
                                                 first.power * power_from_db(most_db));
    lines.push_back(found);
    if (!found) continue;
    const double slack = (slack_cents / cents_per_neper * 2.0) / (number * number - 1.0);
    const double told = stiffness_of(first.hz, number, found->hz);
    least = std::max(least, told - 1.5 * slack);
    most = std::min(most, told + 1.5 * slack);
    if (least > most) least = most = told;
  }
  return lines;
}

HeardNote note_of(const std::vector<const SpectralPeak*>& lines) {
  HeardNote note;
  for (std::size_t i = 0; i < most_partials; ++i)
    if (lines[i]) note.partials[i] = *lines[i];
  return note;
}

bool is_note(const HeardNote& note, double loudest_power) {
  double own_loudest = 0;
  for (const auto& partial : note.partials) own_loudest = std::max(own_loudest, partial ? partial->power : 0.0);
  const double first_db = db_from_power(note.partials[0]->power / own_loudest);
  if (db_from_power(own_loudest / loudest_power) < softest_note_db) return false;
  if (note.first_hz() < no_lone_line_hz && !note.partials[1]) return false;
  return first_db > weak_first_db || note.partials[2].has_value();
}

}  // namespace

double HeardNote::power() const {
  double sum = 0;
  for (const auto& partial : partials) sum += partial ? partial->power : 0.0;
  return sum;
}

std::vector<HeardNote> notes_of_chord(const std::vector<SpectralPeak>& peaks) {
  std::vector<HeardNote> notes;
  if (peaks.empty()) return notes;
  const double loudest = std::ranges::max_element(peaks, {}, &SpectralPeak::power)->power;
  std::vector<double> explained_hz;
  for (const SpectralPeak& peak : peaks) {
    if (peak.hz < lowest_hz || peak.hz > highest_hz) continue;
    if (std::ranges::count(explained_hz, peak.hz) > 0) continue;
    const std::vector<const SpectralPeak*> lines = lines_on(peak, peaks);
    const HeardNote note = note_of(lines);
    if (!is_note(note, loudest)) continue;
    for (const SpectralPeak* line : lines)
      if (line) explained_hz.push_back(line->hz);
    notes.push_back(note);
  }
  return notes;
}

}  // namespace windway
