// SPDX-License-Identifier: GPL-3.0-or-later
#include "brute_force.hpp"

#include <algorithm>
#include <cmath>

namespace windway::test {
namespace {

double length_mm(const NoteBreath& note, double speed_of_sound_m_s) {
  const double hz = note.target_hz * std::pow(2.0, note.moderate.cents / 1200.0);
  return note.register_number * speed_of_sound_m_s * 1000.0 / (2.0 * hz);
}

double change(const NoteBreath& note, double speed_of_sound_m_s, double slide_mm) {
  return -1200.0 * std::log2(1.0 + slide_mm / length_mm(note, speed_of_sound_m_s));
}

}  // namespace

double brute_force_cost(const std::vector<NoteBreath>& notes, double speed_of_sound_m_s, double slide_mm,
                        double target_shift_cents) {
  double sum = 0;
  double weights = 0;
  for (const NoteBreath& note : notes) {
    const double r = note.moderate.cents - target_shift_cents + change(note, speed_of_sound_m_s, slide_mm);
    const double e = std::abs(r) / std::max(5.0, r > 0 ? *note.reach_soft_cents : *note.reach_hard_cents);
    sum += note.weight * (e <= 2.0 ? e * e : 2.0 * (2.0 * e - 2.0));
    weights += note.weight;
  }
  return sum / weights;
}

BruteForce brute_force_slide(const std::vector<NoteBreath>& notes, double speed_of_sound_m_s) {
  BruteForce best{0, 0, brute_force_cost(notes, speed_of_sound_m_s, 0, 0)};
  for (int step = -6000; step <= 6000; ++step) {
    const double cost = brute_force_cost(notes, speed_of_sound_m_s, step / 100.0, 0);
    if (cost < best.cost) best = {step / 100.0, 0, cost};
  }
  double weights = 0;
  for (const NoteBreath& note : notes) {
    best.shift_cents += note.weight * change(note, speed_of_sound_m_s, best.slide_mm);
    weights += note.weight;
  }
  best.shift_cents /= weights;
  return best;
}

double brute_force_home_cents(const std::vector<NoteBreath>& notes, double speed_of_sound_m_s) {
  double best_cents = 0;
  double best_cost = brute_force_cost(notes, speed_of_sound_m_s, 0, 0);
  for (int step = -4000; step <= 4000; ++step) {
    const double cost = brute_force_cost(notes, speed_of_sound_m_s, 0, step / 100.0);
    if (cost < best_cost) {
      best_cost = cost;
      best_cents = step / 100.0;
    }
  }
  return best_cents;
}

}  // namespace windway::test
