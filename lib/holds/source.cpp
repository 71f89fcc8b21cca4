// SPDX-License-Identifier: GPL-3.0-or-later
#include "holds/source.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <boost/math/distributions/chi_squared.hpp>
#include <cmath>
#include <map>
#include <numbers>
#include <set>
#include <utility>

#include "statistics/moments.hpp"
#include "units/order_statistics.hpp"
#include "units/units.hpp"

namespace windway {
namespace {

constexpr double semitone_cents = 2.0 * half_semitone_cents;
constexpr std::size_t least_holds = 4;  // fewer say nothing of a take as a whole

/// The value that a quarter of them reach; `values` must not be empty.
double upper_quartile(const std::vector<double>& values) { return value_of_rank(values, 3 * values.size() / 4); }

bool sounds_with_notes(const std::vector<Hold>& holds) {
  constexpr double least_share = 0.1;  // single flutes, however breathy: to 0.06; a melody 12 dB under them: from 0.18
  std::vector<double> shares;
  for (const Hold& hold : holds) shares.push_back(hold.unexplained_share);
  return upper_quartile(shares) >= least_share;
}

bool are_one_note(const Hold& one, const Hold& other) {
  return std::abs(cents_between(one.frequency_hz, other.frequency_hz)) < half_semitone_cents;
}

/// Is the middle one another note, and so much softer that the flute before and after it does not play it? Between two
/// blows of one note, softer is enough.
bool comes_between(const Hold& before, const Hold& between, const Hold& after) {
  constexpr double softer_db = 3.0;        // the same blow repeats to 1 dB
  constexpr double much_softer_db = 10.0;  // neighbours in a scale, blown alike, differ by less (common practice)
  if (are_one_note(before, between) || are_one_note(between, after)) return false;
  const double softer_by_db = std::min(before.level_db, after.level_db) - between.level_db;
  return softer_by_db > (are_one_note(before, after) ? softer_db : much_softer_db);
}

/// A melody 18 to 24 dB under the notes is heard in the pauses: in a tenth of what sounds and more, on several notes.
bool sounds_between_notes(const std::vector<Hold>& holds) {
  constexpr double least_share = 0.1;  // a flute alone: 0 (simulated takes of all kinds); with a melody: from 0.06
  std::size_t all = 0;
  std::set<long> notes;
  for (std::size_t i = 1; i + 1 < holds.size(); ++i) {
    if (!comes_between(holds[i - 1], holds[i], holds[i + 1])) continue;
    ++all;
    notes.insert(std::lround(cents_between(holds.front().frequency_hz, holds[i].frequency_hz) / semitone_cents));
  }
  return notes.size() > 1 && static_cast<double>(all) >= least_share * static_cast<double>(holds.size());
}

std::optional<Warning> other_sound(const std::string& take, const std::vector<Hold>& holds) {
  if (!sounds_with_notes(holds) && !sounds_between_notes(holds)) return std::nullopt;
  return Warning{WarningCode::other_sound,
                 fmt::format("in {} something else sounds with the notes or between them: a second instrument, a "
                             "voice, a chord, or a hum. The result may belong to either. Record one flute by itself, "
                             "note by note. For a partner's pitch use windway partner.",
                             take)};
}

std::optional<Warning> struck_string(const std::string& take, const std::vector<Hold>& holds) {
  constexpr double least_cents = 0.5;  // real blown notes: to 0.2; a sampled piano: from 0.7
  std::vector<double> narrower_cents;
  for (const Hold& hold : holds)
    if (hold.octave_stretch_cents) narrower_cents.push_back(-*hold.octave_stretch_cents);
  if (narrower_cents.size() < least_holds || upper_quartile(narrower_cents) > -least_cents) return std::nullopt;
  return Warning{
      WarningCode::struck_string,
      fmt::format("the overtones in {} are stretched like those of a stiff string, not of a flute: it sounds like a "
                  "piano or a plucked string. For a partner's pitch use windway partner.",
                  take)};
}

/// How a run of holds goes up and down.
struct Course {
  std::size_t visits = 0;  ///< notes, each counted once however often it was blown in a row
  std::size_t turns = 0;   ///< from up to down or back
};

Course course_of(const std::vector<Hold>& holds) {
  Course course{1, 0};
  double last_cents = 0;
  for (std::size_t i = 1; i < holds.size(); ++i) {
    const double cents = cents_between(holds[i - 1].frequency_hz, holds[i].frequency_hz);
    if (std::abs(cents) < half_semitone_cents) continue;
    ++course.visits;
    if (cents * last_cents < 0) ++course.turns;
    last_cents = cents;
  }
  return course;
}

std::optional<Warning> tune_played(const std::string& take, const std::vector<Hold>& holds) {
  constexpr double longest_s = 0.6;         // who holds notes for measuring holds them longer (common practice)
  constexpr std::size_t least_visits = 12;  // fewer may turn by chance
  constexpr double fewest_notes = 4.0;      // of a scale in one direction
  std::vector<double> lengths_s;
  for (const Hold& hold : holds) lengths_s.push_back(hold.end_s - hold.start_s);
  const Course course = course_of(holds);
  const double notes = static_cast<double>(course.visits) / static_cast<double>(course.turns + 1);
  const double length_s = median_of(lengths_s).value();
  if (course.visits < least_visits || length_s >= longest_s || notes >= fewest_notes) return std::nullopt;
  return Warning{
      WarningCode::tune_played,
      fmt::format(
          "the recording {} seems to be a tune: its notes last {:.1f} s, and it turns up or down after {:.1f} notes on "
          "average. Such short notes, each blown differently, cannot set the head. Hold each note of the scale for a "
          "second or more, or give the tune to windway playing.",
          take, length_s, notes)};
}

double median_of_holds(const std::vector<Hold>& holds, double Hold::*quantity) {
  std::vector<double> values;
  for (const Hold& hold : holds) values.push_back(hold.*quantity);
  return median_of(std::move(values)).value();
}

std::optional<Warning> unsteady(const std::string& take, const std::vector<Hold>& holds) {
  constexpr double most_wander_cents = 25.0;  // swells and vibrato of 30 cents: to 21; vibrato of 40: from 28
  constexpr double most_u95_cents = 1.0;
  const double wander_cents = median_of_holds(holds, &Hold::wander_cents);
  const double u95_cents = median_of_holds(holds, &Hold::frequency_u95_cents);
  // A mean less sure than all that the pitch wanders: its curve does not follow the tone, as with vibrato of 50 cents.
  // Of recorded shakuhachi and ocarinas the mean's u95 is up to 2.9 cents, and a quarter of what they wander.
  const bool is_lost = u95_cents > most_u95_cents && u95_cents > wander_cents;
  if (wander_cents <= most_wander_cents && !is_lost) return std::nullopt;
  return Warning{
      WarningCode::unsteady,
      fmt::format("the notes of {} swing too widely for their pitch to be told, as with a wide vibrato. Hold "
                  "each note with a steady breath and record again.",
                  take)};
}

/// The notes' distances from a grid of semitones that goes through the first, each the mean of its holds.
std::vector<double> off_grid_cents(const std::vector<Hold>& holds) {
  std::map<long, Moments> notes;
  for (const Hold& hold : holds) {
    const double semitones = cents_between(holds.front().frequency_hz, hold.frequency_hz) / semitone_cents;
    const long nearest = std::lround(semitones);
    add(notes[nearest], semitone_cents * (semitones - static_cast<double>(nearest)));
  }
  std::vector<double> off_cents;
  for (const auto& [note, cents] : notes) off_cents.push_back(cents.mean);
  return off_cents;
}

/// Notes of a good flute, as blown, stray from any temperament by 1.5 cents at least (SD, an estimate of our own). So
/// near to it as these they come by chance once in ten thousand takes.
std::optional<Warning> pitch_corrected(const std::string& take, const std::vector<Hold>& holds) {
  constexpr double flute_sd_cents = 1.5, by_chance = 1e-4;
  const Moments off_cents = moments_of(off_grid_cents(holds));
  if (off_cents.n < 2) return std::nullopt;
  const boost::math::chi_squared of_a_flute(static_cast<double>(off_cents.n - 1));
  if (cdf(of_a_flute, off_cents.m2 / (flute_sd_cents * flute_sd_cents)) > by_chance) return std::nullopt;
  return Warning{
      WarningCode::pitch_corrected,
      fmt::format("all notes of {} lie within a cent of equal temperament, as no flute's do. Was their pitch "
                  "corrected, or does an electronic instrument play? Record a flute, and change nothing in "
                  "the recording.",
                  take)};
}

}  // namespace

double unexplained_share(const PitchTrack& track, const std::vector<FrameSpan>& spans) {
  double tones = 0, rest = 0;
  for (const FrameSpan& span : spans)
    for (std::size_t i = span.first; i <= span.last; ++i) {
      const PitchFrame& frame = track.frames[i];
      double tone = 0;
      for (const float amplitude : frame.tone->amplitude) tone += 0.5 * amplitude * amplitude;
      tones += tone;
      rest += power_from_db(frame.power_db) - tone - power_from_db(frame.noise_db) * track.working_rate_hz / 2.0;
    }
  return tones > 0 ? std::max(0.0, rest / tones) : 0.0;
}

std::optional<double> octave_stretch_cents(const PhaseCurves& curves) {
  std::array<std::optional<double>, 4> hz{};  // by harmonic, over the number
  for (const HarmonicGain& gain : harmonic_gains(curves))
    if (gain.number < 4)
      hz[static_cast<std::size_t>(gain.number)] =
          curves.reference_hz +
          gain.gain_rad / (2.0 * std::numbers::pi * static_cast<double>(gain.hops) * curves.hop_s);
  if (!hz[1] || !hz[2] || !hz[3]) return std::nullopt;
  constexpr double second_of_third = 3.0 / 8.0;  // (2^2 - 1) / (3^2 - 1)
  return std::min(cents_between(*hz[1], *hz[2]), second_of_third * cents_between(*hz[1], *hz[3]));
}

Warnings source_warnings(const std::string& take, const std::vector<Hold>& holds) {
  Warnings warnings;
  if (holds.size() < least_holds) return warnings;
  for (const auto& warning : {other_sound(take, holds), struck_string(take, holds), tune_played(take, holds),
                              unsteady(take, holds), pitch_corrected(take, holds)})
    if (warning) warnings.push_back(*warning);
  return warnings;
}

}  // namespace windway
