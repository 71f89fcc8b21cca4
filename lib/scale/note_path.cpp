// SPDX-License-Identifier: GPL-3.0-or-later
#include "scale/note_path.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <span>

namespace windway {
namespace {

constexpr int furthest_residual_cents = 160;
constexpr std::size_t candidates_per_hold = 3;  // the nearest semitone and its neighbours
constexpr int most_repeats = 6;                 // in turn, that make a habit
constexpr double broken_habit_log_prior = -3.0;
constexpr double habitual_share = 0.6;  // of the turns
constexpr int habitual_turns = 4;
constexpr double impossible = -std::numeric_limits<double>::infinity();

/// One way to blow: share of the holds, mean and SD of their distance from the note, cents.
struct BlowShape {
  double share, mean_cents, sd_cents;
};

// Soft blows fall further than hard ones rise, and a steady note moves less (common practice, no source); the figures
// are judgements, and take in the error of the note itself. The last shape is a hold that went wrong.
using NoteShapes = std::array<BlowShape, 4>;
constexpr NoteShapes free_shapes = {{{0.48, 0, 11}, {0.25, -21, 17}, {0.25, 15, 14}, {0.02, -3, 30}}};
constexpr NoteShapes steady_shapes = {{{0.48, 0, 11}, {0.25, -14, 13}, {0.25, 10, 12}, {0.02, -3, 30}}};

double residual_log_density(double cents, const NoteShapes& shapes) {
  double density = 0;
  for (const BlowShape& shape : shapes) {
    const double z = (cents - shape.mean_cents) / shape.sd_cents;
    density += shape.share / shape.sd_cents * std::exp(-0.5 * z * z);
  }
  return std::log(density);
}

/// residual_log_density at whole cents, from the furthest flat to the furthest sharp.
std::vector<double> residual_table(const NoteShapes& shapes) {
  std::vector<double> table;
  for (int cents = -furthest_residual_cents; cents <= furthest_residual_cents; ++cents)
    table.push_back(residual_log_density(cents, shapes));
  return table;
}

/// The tables of residual_log_density, for a free note and for a steady one.
struct ResidualTables {
  std::vector<double> of_free = residual_table(free_shapes), of_steady = residual_table(steady_shapes);
};

const ResidualTables& tables() {
  static const ResidualTables built;
  return built;
}

double hold_log_likelihood(double residual_cents, const std::vector<double>& table) {
  const double clamped = std::clamp<double>(residual_cents, -furthest_residual_cents, furthest_residual_cents);
  // To the nearest, without the call that lround is: this is asked some million times.
  return table[static_cast<std::size_t>(clamped + (furthest_residual_cents + 0.5))];
}

/// Speaks against two blows being of one note where the sharper is the quieter: blown harder, a note is sharper and
/// louder (common practice, no source). Nothing speaks for them where both rise: a room bends the level by some dB, and
/// a recorder may level it out.
double contradiction_log_prior(const HeardHold& before, const HeardHold& here) {
  constexpr double telling_cents = 8, telling_db = 1.5, most = 4;
  const double cents = 100.0 * (here.pitch - before.pitch), db = here.level_db - before.level_db;
  return cents * db < 0 ? -std::min({std::abs(cents) / telling_cents, std::abs(db) / telling_db, most}) : 0.0;
}

std::vector<double> contradictions(const HeardTake& take) {
  std::vector<double> by_hold(take.size(), 0.0);
  for (std::size_t i = 1; i < take.size(); ++i) by_hold[i] = contradiction_log_prior(take[i - 1], take[i]);
  return by_hold;
}

/// The nearest semitone that has a neighbour either side.
int nearest_midi(double pitch) {
  const double half_up = std::clamp<double>(pitch, 1, midi_keys - 2) + 0.5;  // no call for the rounding
  return static_cast<int>(half_up);
}

MovePriors moves_among(const std::vector<HeardTake>& takes, const ScaleModel& model, double furthest_offset_cents) {
  double lowest = midi_keys, highest = 0;
  for (const HeardTake& take : takes)
    for (const HeardHold& hold : take) {
      lowest = std::min(lowest, hold.pitch);
      highest = std::max(highest, hold.pitch);
    }
  const double furthest = furthest_offset_cents / 100.0;
  const int from = nearest_midi(lowest - furthest) - 1, to = nearest_midi(highest + furthest) + 1;
  return {model, std::min(from, to), to};
}

/// A hold taken for one note, as the `repeat`th in turn.
struct State {
  int midi = 0;
  int repeat = 0;
  double log_score = 0;
  std::size_t from = 0;  ///< state of the hold before
};

/// The states of one hold: three notes, each at every count of repeats (one where there is no habit).
using Step = std::span<State>;

void fill_states(Step step, double pitch, const ScaleModel& model, const TakeContext& context) {
  const double at_pitch = pitch - context.offset_cents / 100.0;
  const int nearest = nearest_midi(at_pitch);
  const auto& [of_free, of_steady] = tables();
  std::size_t state = 0;
  for (int midi = nearest - 1; midi <= nearest + 1; ++midi) {
    const auto key = static_cast<std::size_t>(midi);
    const double residual_cents = 100.0 * (at_pitch - midi) - context.note_cents[key];
    const double log_score =
        model.note_log_prior[key] + hold_log_likelihood(residual_cents, model.steady[key] ? of_steady : of_free);
    for (int repeat = 0; repeat <= context.repeats; ++repeat)
      step[state++] = {.midi = midi, .repeat = repeat, .log_score = log_score};
  }
}

/// Count of repeats, from 0, after one more hold of the same note; all beyond the habit count as one too many.
int next_repeat(int repeat, int habit) { return std::min(repeat + 1, habit); }

double habit_log_prior(const State& before, const State& here, int habit) {
  if (habit == 0) return 0.0;
  if (here.midi != before.midi) {
    if (here.repeat != 0) return impossible;
    return before.repeat == habit - 1 ? 0.0 : broken_habit_log_prior;
  }
  if (here.repeat != next_repeat(before.repeat, habit)) return impossible;
  return before.repeat == habit - 1 ? broken_habit_log_prior : 0.0;
}

void follow(std::span<const State> before, Step here, const MovePriors& moves, int habit, double contradiction) {
  for (State& to : here) {
    double best = impossible;
    for (std::size_t j = 0; j < before.size(); ++j) {
      const State& from = before[j];
      const double score = from.log_score + habit_log_prior(from, to, habit) + moves(from.midi, to.midi) +
                           (from.midi == to.midi ? contradiction : 0.0);
      // Chosen without a branch: which of them it is cannot be foretold.
      to.from = score > best ? j : to.from;
      best = score > best ? score : best;
    }
    to.log_score += best;
  }
}

void begin(Step first) {
  for (State& state : first)
    if (state.repeat > 0) state.log_score = impossible;
}

double most_score(std::span<const State> step) {
  double most = impossible;
  for (const State& state : step) most = std::max(most, state.log_score);
  return most;
}

NotePath traced_back(const std::vector<State>& states, std::size_t holds) {
  const std::size_t per_hold = states.size() / holds;
  const auto last = std::span(states).last(per_hold);
  const auto best = std::max_element(last.begin(), last.end(),
                                     [](const State& a, const State& b) { return a.log_score < b.log_score; });
  auto at = static_cast<std::size_t>(best - last.begin());
  NotePath path{best->log_score, std::vector<int>(holds)};
  for (std::size_t i = holds; i-- > 0;) {
    const State& state = states[i * per_hold + at];
    path.midi[i] = state.midi;
    at = state.from;
  }
  return path;
}

}  // namespace

NotePaths::NotePaths(const std::vector<HeardTake>& takes, const ScaleModel& model, double furthest_offset_cents)
    : takes_(takes), model_(model), moves_(moves_among(takes, model, furthest_offset_cents)) {
  for (const HeardTake& take : takes) contradiction_.push_back(contradictions(take));
}

NotePath NotePaths::best(std::size_t take, const TakeContext& context) const {
  return best_from(take, context, impossible, std::vector<double>(takes_[take].size() + 1, 0.0)).value_or(NotePath{});
}

std::optional<NotePath> NotePaths::best_from(std::size_t take, const TakeContext& context, double least_log_score,
                                             const std::vector<double>& most_from) const {
  const HeardTake& holds = takes_[take];
  if (holds.empty()) return NotePath{};
  const auto per_hold = candidates_per_hold * (static_cast<std::size_t>(context.repeats) + 1);
  std::vector<State> states(holds.size() * per_hold);
  const auto step = [&](std::size_t hold) { return Step(states).subspan(hold * per_hold, per_hold); };
  for (std::size_t i = 0; i < holds.size(); ++i) {
    fill_states(step(i), holds[i].pitch, model_, context);
    if (i > 0)
      follow(step(i - 1), step(i), moves_, context.repeats, contradiction_[take][i]);
    else
      begin(step(0));
    if (most_score(step(i)) + most_from[i + 1] < least_log_score) return std::nullopt;
  }
  return traced_back(states, holds.size());
}

std::vector<double> most_from_hold(const HeardTake& take, double offset_cents) {
  std::vector<double> most(take.size() + 1, 0.0);
  for (std::size_t i = take.size(); i-- > 0;) {
    const double at_pitch = take[i].pitch - offset_cents / 100.0;
    const int nearest = nearest_midi(at_pitch);
    double hold = impossible;
    for (int midi = nearest - 1; midi <= nearest + 1; ++midi)
      for (const auto* table : {&tables().of_free, &tables().of_steady})
        hold = std::max(hold, hold_log_likelihood(100.0 * (at_pitch - midi), *table));
    most[i] = most[i + 1] + hold + likeliest_move_log_prior;
  }
  return most;
}

int repeats_in(const std::vector<int>& midi) {
  std::map<int, int> turns_of_length;
  int turns = 0, length = 0;
  for (std::size_t i = 0; i < midi.size(); ++i) {
    ++length;
    if (i + 1 < midi.size() && midi[i + 1] == midi[i]) continue;
    ++turns_of_length[length];
    ++turns;
    length = 0;
  }
  for (const auto& [repeats, count] : turns_of_length)
    if (turns >= habitual_turns && count >= habitual_share * turns) return repeats <= most_repeats ? repeats : 0;
  return 0;
}

}  // namespace windway
