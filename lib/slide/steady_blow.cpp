// SPDX-License-Identifier: GPL-3.0-or-later
#include "slide/steady_blow.hpp"

#include <algorithm>
#include <cmath>

#include "units/order_statistics.hpp"

namespace windway {
namespace {

constexpr double step_db = 0.01;        // finer than anybody blows
constexpr double worth_it_share = 0.9;  // of the cost as it is: else leave the player in peace

/// The notes as they come out blown `louder_db` harder.
std::vector<SlideNote> blown(std::vector<SlideNote> notes, const std::vector<double>& cents_per_db, double louder_db) {
  for (std::size_t note = 0; note < notes.size(); ++note) notes[note].moderate_cents += cents_per_db[note] * louder_db;
  return notes;
}

/// By note; empty where no note's answer is known.
std::vector<double> answers_cents_per_db(const std::vector<NoteBreath>& notes) {
  std::vector<double> known;
  for (const NoteBreath& note : notes)
    if (note.cents_per_db && note.cents_per_db->cents > 0) known.push_back(note.cents_per_db->cents);
  const auto median = median_of(known);
  if (!median) return {};
  std::vector<double> answers;
  for (const NoteBreath& note : notes) answers.push_back(note.cents_per_db ? note.cents_per_db->cents : *median);
  return answers;
}

/// Half of the level from soft to hard, as most notes have it.
std::optional<double> half_range_db(const std::vector<NoteBreath>& notes) {
  std::vector<double> ranges_db;
  for (const NoteBreath& note : notes)
    if (note.level_range_db && *note.level_range_db > 0) ranges_db.push_back(*note.level_range_db);
  const auto median = median_of(std::move(ranges_db));
  if (!median) return std::nullopt;
  return 0.5 * *median;
}

double mean_shift_cents(const std::vector<SlideNote>& notes, const std::vector<double>& cents_per_db,
                        double louder_db) {
  double sum = 0, weights = 0;
  for (std::size_t note = 0; note < notes.size(); ++note) {
    sum += notes[note].weight * cents_per_db[note] * louder_db;
    weights += notes[note].weight;
  }
  return sum / weights;
}

}  // namespace

std::optional<SteadyBlow> steady_blow(const std::vector<NoteBreath>& notes, const std::vector<SlideNote>& found,
                                      double slide_mm) {
  const std::vector<double> answers = answers_cents_per_db(notes);
  const auto most_db = half_range_db(notes);
  if (answers.empty() || !most_db) return std::nullopt;
  const double cost_now = mean_cost(found, slide_mm);
  SteadyBlow best{0, 0, 0, cost_now};
  const int steps = static_cast<int>(std::floor(*most_db / step_db));
  for (int step = -steps; step <= steps; ++step) {
    const double cost = mean_cost(blown(found, answers, step * step_db), slide_mm);
    if (cost < best.cost_after) best = {step * step_db, std::abs(step * step_db) / *most_db, 0, cost};
  }
  if (best.cost_after >= worth_it_share * cost_now) return std::nullopt;
  best.shift_cents = mean_shift_cents(found, answers, best.louder_db);
  return best;
}

}  // namespace windway
