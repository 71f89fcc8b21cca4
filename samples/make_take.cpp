// SPDX-License-Identifier: GPL-3.0-or-later
#include <cstdint>
#include <string_view>

#include "sample_truth.hpp"

namespace windway::samples {
namespace {

using namespace synthesis;

/// A seed of its own for every text: FNV-1a (from memory), so that a new take changes none of the others.
std::uint64_t seed_of(std::uint64_t seed, std::string_view text) {
  std::uint64_t hash = 14695981039346656037ULL ^ seed;
  for (const char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211ULL;
  return hash;
}

std::vector<Blowing> planned_blows(const SampleTake& plan, const Strengths& strengths, Random& random) {
  const auto notes = major_scale(plan.draw.lowest_midi, plan.semitones);
  switch (plan.order) {
    case Order::round_by_round:
      return round_by_round(notes, plan.blows, strengths, plan.timing, random);
    case Order::there_and_back:
      return note_by_note(there_and_back(notes), plan.blows, strengths, plan.timing, random);
    case Order::note_by_note:
      break;
  }
  return note_by_note(notes, plan.blows, strengths, plan.timing, random);
}

/// How far the head can move: in to its fully-in place, out by as much as anyone would.
LeastCost compromise_of(const SampleTake& plan, const std::vector<TrueNote>& notes) {
  constexpr double farthest_mm = 30.0;
  return least_cost(notes, -plan.head_out_mm, farthest_mm);
}

/// Warming counts from the end of the take: the flute drawn is the warm one.
FluteModel cold_flute(FluteModel flute, double warming_cents) {
  for (NoteModel& note : flute.notes) note.error_cents -= warming_cents;
  return flute;
}

}  // namespace

MadeTake make_take(const SampleTake& plan, std::uint64_t seed, double rate_hz) {
  Random flute_random(seed_of(seed, plan.serial));
  Random take_random(seed_of(seed, plan.name));
  const FluteModel warm = drawn_out(draw_flute(plan.draw, flute_random), plan.head_out_mm);
  const Strengths strengths{take_random.uniform(-1.4, -1.0), take_random.uniform(0.8, 1.1)};
  const auto blowings = planned_blows(plan, strengths, take_random);
  Performance performance = plan.performance;
  performance.rate_hz = rate_hz;
  MadeTake made;
  made.plan = plan;
  made.sound = synthesise_take(cold_flute(warm, performance.warming_cents), blowings, performance, take_random);
  const double reached_cents = made.sound.warming.cents_at(made.sound.holds.back().end_s);
  made.notes = true_notes(warm, blowings, strengths, reached_cents - performance.warming_cents);
  if (plan.head_moves) made.compromise = compromise_of(plan, made.notes);
  made.home_a4_hz = home_a4_hz(made.notes, plan.draw.a4_hz);
  return made;
}

}  // namespace windway::samples
