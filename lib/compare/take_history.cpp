// SPDX-License-Identifier: GPL-3.0-or-later
#include "compare/take_history.hpp"

#include <algorithm>
#include <boost/math/distributions/normal.hpp>
#include <cassert>
#include <cmath>

#include "compare/compare.hpp"
#include "compare/compare_warnings.hpp"
#include "units/coverage_factor.hpp"

namespace windway {
namespace {

void refuse_same_recordings(const std::vector<FluteResult>& takes) {
  for (std::size_t i = 0; i < takes.size(); ++i)
    for (std::size_t j = 0; j < i; ++j)
      if (same_recording(takes[i].measurement, takes[j].measurement))
        throw Error(ErrorKind::usage,
                    takes[j].name + " and " + takes[i].name + " are the same recording; give it once");
}

void refuse_other_instruments(const std::vector<FluteResult>& takes) {
  const FluteResult& first = takes.front();
  const Instrument& flute = first.measurement.naming.instrument;
  for (const FluteResult& take : takes) {
    const Instrument& other = take.measurement.naming.instrument;
    if (other.kind == flute.kind && other.lowest_midi == flute.lowest_midi) continue;
    throw Error(ErrorKind::usage, "a history is of one flute, but " + first.name + " is of a " + described(flute) +
                                      " and " + take.name + " of a " + described(other) +
                                      "; if it is one flute, measure each with the same --kind and --lowest");
  }
}

bool is_universal(const std::string& time) { return time.ends_with('Z'); }
bool has_time_of_day(const std::string& time) { return time.find('T') != std::string::npos; }

/// Whether both say which was first: not where one is the day of which the other is an hour, nor where one clock is
/// universal time and the other is not.
bool can_be_told_apart(const std::string& one, const std::string& other) {
  if (one == other) return true;
  if (has_time_of_day(one) && has_time_of_day(other) && is_universal(one) != is_universal(other)) return false;
  return !one.starts_with(other) && !other.starts_with(one);
}

bool are_all_dated(const std::vector<FluteResult>& takes) {
  for (const FluteResult& one : takes) {
    const auto time = recorded_at(one.measurement);
    const auto is_told_apart = [&](const FluteResult& other) {
      const auto other_time = recorded_at(other.measurement);
      return time && other_time && can_be_told_apart(*time, *other_time);
    };
    if (!std::ranges::all_of(takes, is_told_apart)) return false;
  }
  return true;
}

/// What the head's move and the warmth that was said make of a note's change; `law_u95` is alike on all notes, in
/// proportion to `by_head`.
struct Expected {
  double by_head_cents = 0;
  double by_air_cents = 0;
};

/// The change of each note less what was to be expected, with the u95 of both takes alone.
std::vector<CentsEstimate> rests(const Comparison& comparison, const std::vector<Expected>& expected) {
  std::vector<CentsEstimate> out;
  for (std::size_t i = 0; i < expected.size(); ++i) {
    const CentsEstimate& change = comparison.notes[i].change;
    out.push_back({change.cents - expected[i].by_head_cents - expected[i].by_air_cents, change.u95_cents});
  }
  return out;
}

double mean_by_head(const std::vector<Expected>& expected) {
  double sum_cents = 0;
  for (const Expected& each : expected) sum_cents += each.by_head_cents;
  return sum_cents / static_cast<double>(expected.size());
}

/// All notes weigh alike, and their errors are taken as independent.
CentsEstimate mean_of(const std::vector<CentsEstimate>& changes) {
  CentsEstimate mean;
  double variance = 0;
  const auto count = static_cast<double>(changes.size());
  for (const CentsEstimate& change : changes) {
    mean.cents += change.cents / count;
    variance += std::pow(change.u95_cents / count, 2);
  }
  mean.u95_cents = std::sqrt(variance);
  return mean;
}

bool is_beyond(const CentsEstimate& estimate) { return std::abs(estimate.cents) > estimate.u95_cents; }

/// The change less the mean, in which it counts itself: Var(x - m) = Var(x) (1 - 2 / n) + Var(m).
CentsEstimate apart_from(const CentsEstimate& change, const CentsEstimate& mean, std::size_t count) {
  const double own_share = 1.0 - 2.0 / static_cast<double>(count);
  const double variance = own_share * std::pow(change.u95_cents, 2) + std::pow(mean.u95_cents, 2);
  return {change.cents - mean.cents, std::sqrt(std::max(0.0, variance))};
}

/// How many times its u95 the largest of so many estimates, all of nothing, keeps within 19 times in 20 (Z. Sidak,
/// J. Amer. Statist. Assoc. 62 (1967) 626, from memory): of 13 notes one is beyond its own u95 by chance in half of all
/// steps.
double sure_factor(std::size_t count) {
  const double each = std::pow(0.95, 1.0 / static_cast<double>(count));
  return boost::math::quantile(boost::math::normal(), 0.5 * (1.0 + each)) / normal_u95_factor;
}

void widen(CentsEstimate& estimate, double u95_cents) {
  estimate.u95_cents = std::hypot(estimate.u95_cents, u95_cents);
}

std::optional<double> drawn_out_between(const Head& before, const Head& after) {
  if (!before.moves && !after.moves) return 0.0;
  return before.out_mm && after.out_mm ? std::optional(*after.out_mm - *before.out_mm) : std::nullopt;
}

std::vector<Expected> expected_changes(const Comparison& comparison, const Measurement& before,
                                       const Measurement& after) {
  const double factor = before.settings.head.factor ? before.settings.head.factor->factor : 1.0;
  const double by_air_cents = air_change_cents(quoted_air(before.settings), quoted_air(after.settings));
  std::vector<Expected> expected;
  for (const NoteChange& note : comparison.notes)
    expected.push_back({factor * note.predicted_cents.value_or(0.0), by_air_cents});
  return expected;
}

TakeStep step_between(const Measurement& before, const Measurement& after) {
  TakeStep step;
  step.drawn_out_mm = drawn_out_between(before.settings.head, after.settings.head);
  const bool was_moved = step.drawn_out_mm.value_or(0.0) != 0.0;
  const Comparison comparison = compare(before, after, {was_moved ? step.drawn_out_mm : std::nullopt});
  const std::vector<Expected> expected = expected_changes(comparison, before, after);
  const std::vector<CentsEstimate> changes = rests(comparison, expected);
  const CentsEstimate mean = mean_of(changes);
  const double law_share = law_u95_share(before.settings.head);
  const double sure = sure_factor(changes.size());
  const double mean_by_head_cents = mean_by_head(expected);
  for (std::size_t i = 0; i < changes.size(); ++i) {
    SteppedNote& note = step.notes.emplace_back();
    note.note = comparison.notes[i].note;
    note.change = changes[i];
    widen(note.change, law_share * expected[i].by_head_cents);
    note.is_real = is_beyond(note.change);
    note.apart = apart_from(changes[i], mean, changes.size());
    widen(note.apart, law_share * (expected[i].by_head_cents - mean_by_head_cents));
    note.is_apart = changes.size() > 1 && std::abs(note.apart.cents) > sure * note.apart.u95_cents;
  }
  step.together = mean;
  widen(step.together, law_share * mean_by_head_cents);
  return step;
}

std::optional<DayAgreement> agreement_of(const std::vector<TakeStep>& steps) {
  double squares = 0, degrees = 0, together_squares = 0;
  for (const TakeStep& step : steps) {
    together_squares += std::pow(step.together.cents, 2);
    for (const SteppedNote& note : step.notes) squares += std::pow(note.apart.cents, 2);
    degrees += static_cast<double>(step.notes.size()) - 1.0;
  }
  if (degrees < 1) return std::nullopt;
  const auto takes = static_cast<double>(steps.size() + 1);
  DayAgreement agreement;
  agreement.note_sd_cents = std::sqrt(squares / degrees / 2.0);  // a difference has the variance of two takes
  // Successive differences share takes: of n values they are worth 2 (n - 1)^2 / (3 n - 4) degrees of freedom.
  const double worth = 2.0 * (takes - 1.0) / (3.0 * takes - 4.0);
  agreement.note_u95_cents = u95_factor(worth * degrees) * agreement.note_sd_cents;
  agreement.together_sd_cents = std::sqrt(together_squares / (takes - 1.0) / 2.0);
  return agreement;
}

}  // namespace

std::optional<std::string> recorded_at(const Measurement& measurement) {
  std::optional<std::string> first;
  for (const TakeInfo& take : measurement.takes) {
    if (!take.recorded_at) return std::nullopt;
    if (!first || *take.recorded_at < *first) first = take.recorded_at;
  }
  return first;
}

TakeHistory take_history(std::vector<FluteResult> takes) {
  assert(!takes.empty());
  refuse_other_instruments(takes);
  refuse_same_recordings(takes);
  TakeHistory history;
  history.takes = std::move(takes);
  history.is_by_time = are_all_dated(history.takes);
  if (history.is_by_time)
    std::ranges::stable_sort(history.takes, {}, [](const FluteResult& take) { return *recorded_at(take.measurement); });
  for (std::size_t i = 1; i < history.takes.size(); ++i) {
    history.steps.push_back(step_between(history.takes[i - 1].measurement, history.takes[i].measurement));
    history.steps.back().before = i - 1;
    history.steps.back().after = i;
  }
  history.agreement = agreement_of(history.steps);
  return history;
}

}  // namespace windway
