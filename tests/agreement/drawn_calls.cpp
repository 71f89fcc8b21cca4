// SPDX-License-Identifier: GPL-3.0-or-later
#include "agreement/drawn_calls.hpp"

#include "analysis/measured_take.hpp"
#include "support/plan.hpp"

namespace windway::test {
namespace {

using namespace synthesis;

constexpr int lowest_midi = 74;
constexpr double blow_sd_doublings = 0.05;  // half of what the loosest drawn players have (played_takes.hpp)
constexpr double rate_hz = 24000.0;

}  // namespace

FluteModel drawn_whistle(std::uint64_t seed, double overall_cents) {
  Random random(seed);
  return draw_flute({.lowest_midi = lowest_midi, .overall_cents = overall_cents}, random);
}

FluteModel flute_in(const TakeOfCall& take, FluteModel flute) {
  for (NoteModel& note : flute.notes) {
    const double now_hz = hz_at_cents(target_hz(flute, note.midi), note.error_cents);
    note.error_cents += take.warmer_cents +
                        take.slide_factor * slide_cents(effective_length_mm(note.register_number, now_hz), take.out_mm);
  }
  return flute;
}

std::vector<float> played(const FluteModel& flute, const TakeOfCall& take, std::uint64_t seed) {
  Random random(seed);
  auto plan = note_by_note(major_scale(lowest_midi, 16), {Blow::soft, Blow::moderate, Blow::hard}, {}, {}, random);
  for (Blowing& blowing : plan) {
    const double off = take.harder_doublings + random.normal(0.0, blow_sd_doublings);
    blowing.from_doublings += off;
    blowing.to_doublings += off;
  }
  Performance performance;
  performance.rate_hz = rate_hz;
  return synthesise_take(flute_in(take, flute), plan, performance, random).samples;
}

Measurement measured_call(const FluteModel& flute, const std::vector<TakeOfCall>& takes, std::uint64_t seed,
                          const std::vector<double>& places_mm) {
  std::vector<std::vector<float>> sounds;
  for (const TakeOfCall& take : takes) sounds.push_back(played(flute, take, 100 * seed + sounds.size()));
  MeasureSettings settings = whistle_in_d();
  settings.head_out_mm_of_takes = places_mm;
  return measured_together(sounds, rate_hz, settings);
}

Measurement measured_calls_of(const std::vector<FluteModel>& flutes, std::uint64_t seed) {
  std::vector<std::vector<float>> sounds;
  for (const FluteModel& flute : flutes) sounds.push_back(played(flute, {}, 100 * seed + sounds.size()));
  return measured_together(sounds, rate_hz, whistle_in_d());
}

}  // namespace windway::test
