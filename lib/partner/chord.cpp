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
constexpr double one_line_hz = 6.0;               // lines nearer to each other than that are not told apart
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

/// The line nearest to the middle of `low_hz` to `high_hz`, of those within that are no stronger than `most_power` nor
/// far weaker than the strongest of them; null where there is none.
const SpectralPeak* line_within(const std::vector<SpectralPeak>& peaks, double low_hz, double high_hz,
                                double most_power) {
  constexpr double far_weaker_db = -15.0;
  const auto from = std::ranges::lower_bound(peaks, low_hz, {}, &SpectralPeak::hz);
  const auto to = std::ranges::upper_bound(peaks, high_hz, {}, &SpectralPeak::hz);
  double strongest = 0;
  for (auto peak = from; peak < to; ++peak)
    if (peak->power <= most_power) strongest = std::max(strongest, peak->power);
  const double least = strongest * power_from_db(far_weaker_db);
  const double middle_hz = 0.5 * (low_hz + high_hz);
  const SpectralPeak* nearest = nullptr;
  for (auto peak = from; peak < to; ++peak) {
    if (peak->power > most_power || peak->power < least) continue;
    if (!nearest || std::abs(peak->hz - middle_hz) < std::abs(nearest->hz - middle_hz)) nearest = &*peak;
  }
  return nearest;
}

/// Lines of a spectrum, and which of them no note found so far explains.
struct Lines {
  std::vector<SpectralPeak> all;
  std::vector<SpectralPeak> free;
};

/// The range of a string's stiffness that its lines found so far leave open.
struct StiffnessRange {
  double least = 0.0;
  double most = most_stiffness;

  void narrow(double measured, double slack) {
    least = std::max(least, measured - slack);
    most = std::min(most, measured + slack);
    if (least > most) least = most = measured;
  }
};

/// The lines that a string gives whose first partial is `first`, by number; empty where there is none. Its stiffness is
/// learnt from the partials found, the next looked for there, first among the lines that are free.
std::vector<std::optional<SpectralPeak>> lines_on(const SpectralPeak& first, const Lines& lines) {
  std::vector<std::optional<SpectralPeak>> own{first};
  StiffnessRange stiffness;
  for (int number = 2; number <= most_explained; ++number) {
    const double at_hz = number * first.hz;
    const double slack_cents = place_error_cents + cents_between(at_hz, at_hz + number * place_error_hz);
    const double low_hz = hz_at_cents(at_hz, stretch_cents(number, stiffness.least) - slack_cents);
    const double high_hz = hz_at_cents(at_hz, stretch_cents(number, stiffness.most) + slack_cents);
    const double most_power = first.power * power_from_db(number > 4 ? most_above_first_high_db : most_above_first_db);
    const SpectralPeak* found = line_within(lines.free, low_hz, high_hz, most_power);
    if (!found) found = line_within(lines.all, low_hz, high_hz, most_power);
    own.push_back(found ? std::optional(*found) : std::nullopt);
    if (!found) continue;
    const double slack = (slack_cents / cents_per_neper * 2.0) / (number * number - 1.0);
    stiffness.narrow(stiffness_of(first.hz, number, found->hz), 1.5 * slack);
  }
  return own;
}

HeardNote note_of(const std::vector<std::optional<SpectralPeak>>& lines) {
  HeardNote note;
  std::copy_n(lines.begin(), most_partials, note.partials.begin());
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
  Lines lines{peaks, peaks};
  for (const SpectralPeak& peak : peaks) {
    if (peak.hz < lowest_hz || peak.hz > highest_hz) continue;
    if (std::ranges::find(lines.free, peak.hz, &SpectralPeak::hz) == lines.free.end()) continue;
    const auto own = lines_on(peak, lines);
    const HeardNote note = note_of(own);
    if (!is_note(note, loudest)) continue;
    std::erase_if(lines.free, [&](const SpectralPeak& line) {
      return std::ranges::any_of(own, [&](const auto& o) { return o && std::abs(o->hz - line.hz) < one_line_hz; });
    });
    notes.push_back(note);
  }
  return notes;
}

}  // namespace windway
