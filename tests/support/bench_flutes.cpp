// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/bench_flutes.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "units/units.hpp"

namespace windway::synthesis {
namespace {

constexpr int lowest_midi = 74;  // D5
constexpr double nominal_out_mm = 5.0;
constexpr std::size_t heard_harmonics = 2;  // the fundamental and one more: enough for the colour, quickly drawn
constexpr double hole_share = 0.9;          // of a note's SD: what its hole does to both registers
constexpr double model_spread = 36.0;       // cents from soft to hard of the model's liveliest note
constexpr double note_off_cents = 35.0, octave_wide_cents = 35.0, spread_factor = 2.5, body_long_mm = 6.5;

/// How far the notes of the flute drawn may lie for it to be called good; inside what BenchLimits allows.
constexpr double good_cents = 20.0, good_octave_cents = 15.0, good_spread_cents = 50.0, inside_range_mm = 0.5;

double spread_cents(const NoteModel& note) {
  return cents_at(note, bench_strengths().hard) - cents_at(note, bench_strengths().soft);
}

/// The design, as it would be without any error: slopes, colours and levels of the whole model.
FluteModel design(int lowest, std::uint64_t seed) {
  Random random(seed * 1000003 + 17);
  FluteModel model = draw_flute({Kind::whistle, lowest, 440.0, 0.0, 0.0, 34.0}, random);
  double most = 0.0;
  for (const int midi : bench_notes(model)) most = std::max(most, spread_cents(note_of(model, midi)));
  for (NoteModel& note : model.notes) {
    note.cents_per_doubling *= model_spread / most;
    note.error_cents = 0.0;
    for (std::size_t k = heard_harmonics; k < note.harmonic_db.size(); ++k) note.harmonic_db[k] = absent_harmonic_db;
  }
  return model;
}

/// The instrument with its head at its own best place but for its errors.
FluteModel with_own_errors(FluteModel flute, const BenchPlan& plan, double sign, Random& random) {
  std::array<double, 12> of_hole{};
  for (double& cents : of_hole) cents = random.normal(0.0, hole_share * plan.note_sd_cents);
  const double register_sd = std::sqrt(1.0 - hole_share * hole_share) * plan.note_sd_cents;
  for (NoteModel& note : flute.notes) {
    const auto degree = static_cast<std::size_t>((note.midi - flute.notes.front().midi) % 12);
    note.error_cents = sign * (of_hole[degree] + random.normal(0.0, register_sd));
    if (static_cast<int>(degree) == plan.hole_semitones) {
      const double length_mm = effective_length_mm(note.register_number, target_hz(flute, note.midi));
      note.error_cents += slide_cents(length_mm, plan.hole_error_mm);
    }
    note.cents_per_doubling *= random.uniform(0.92, 1.08);
    note.loudness_db += random.normal(0.0, 0.3);
  }
  flute.breath_db += random.normal(0.0, 1.0);
  return flute;
}

/// A silent take has no notes to break; its flute stays good.
void plant(BenchFlute& bench_flute, Random& random) {
  const std::string& fault = bench_flute.fault;
  FluteModel& flute = bench_flute.as_recorded;
  if (fault == "body too long") flute = drawn_out(flute, body_long_mm);
  for (NoteModel& note : flute.notes) {
    if (fault == "octave wide" && note.register_number > 1) note.error_cents += octave_wide_cents;
    if (fault == "spread too large") note.cents_per_doubling *= spread_factor;
  }
  if (fault != "one note off") return;
  const auto notes = bench_notes(flute);
  const double up_or_down = random.chance(0.5) ? 1.0 : -1.0;
  bench_flute.off_midi = notes[static_cast<std::size_t>(random.uniform(0.0, static_cast<double>(notes.size())))];
  const auto index = static_cast<std::size_t>(*bench_flute.off_midi - flute.notes.front().midi);
  flute.notes[index].error_cents += up_or_down * note_off_cents;
}

/// Works out what is true of it as it was recorded.
void find_truth(BenchFlute& flute) {
  std::vector<Blowing> blowings;
  for (const int midi : bench_notes(flute.as_recorded))
    for (const Blow blow : {Blow::soft, Blow::moderate, Blow::hard}) blowings.push_back({.midi = midi, .blow = blow});
  flute.notes = true_notes(flute.as_recorded, blowings, bench_strengths());
  flute.best = least_cost(flute.notes, -flute.head_out_mm, BenchLimits{}.travel_mm - flute.head_out_mm);
  const FluteModel moved = drawn_out(flute.as_recorded, flute.best.slide_mm);
  flute.moved_moderate_cents.clear();
  for (const TrueNote& note : flute.notes) flute.moved_moderate_cents.push_back(note_of(moved, note.midi).error_cents);
}

bool good(const BenchFlute& flute) {
  const BenchLimits limits;
  const double rest_mm = flute.head_out_mm + flute.best.slide_mm;
  if (rest_mm < limits.least_out_mm + inside_range_mm || rest_mm > limits.most_out_mm - inside_range_mm) return false;
  for (std::size_t i = 0; i < flute.notes.size(); ++i) {
    if (std::abs(flute.moved_moderate_cents[i]) > good_cents) return false;
    if (flute.notes[i].spread_cents.value_or(0.0) > good_spread_cents) return false;
    for (std::size_t j = 0; j < i; ++j) {
      const double wide = flute.moved_moderate_cents[i] - flute.moved_moderate_cents[j];
      if (flute.notes[i].midi - flute.notes[j].midi == 12 && std::abs(wide) > good_octave_cents) return false;
    }
  }
  return true;
}

/// The note planted off, and no other, is far out after the best slide.
bool one_alone_off(const BenchFlute& flute) {
  for (std::size_t i = 0; i < flute.notes.size(); ++i) {
    const bool off = flute.notes[i].midi == flute.off_midi;
    const double cents = std::abs(flute.moved_moderate_cents[i]);
    if (off ? cents < 30.0 : cents > good_cents) return false;
  }
  return true;
}

/// `sign` -1: with all its own errors turned round.
BenchFlute draw_once(const FluteModel& model, const BenchPlan& plan, double sign, Random& random) {
  BenchFlute flute;
  const double best_out_mm = random.normal(nominal_out_mm, plan.head_sd_mm);
  flute.head_out_mm = std::round(10.0 * random.normal(best_out_mm, plan.head_sd_mm)) / 10.0;
  flute.as_recorded = drawn_out(with_own_errors(model, plan, sign, random), flute.head_out_mm - best_out_mm);
  find_truth(flute);
  return flute;
}

/// Its mirror must be good as well: otherwise those drawn again would be mostly those whose own errors add to the
/// hole's, and the bench's mean would no longer be the hole's error.
BenchFlute draw_good(const FluteModel& model, const BenchPlan& plan, Random& random) {
  for (;;) {
    Random same = random;
    BenchFlute flute = draw_once(model, plan, 1.0, random);
    if (good(flute) && good(draw_once(model, plan, -1.0, same))) return flute;
  }
}

BenchFlute draw_faulty(const FluteModel& model, const BenchPlan& plan, const std::string& fault, Random& random) {
  for (;;) {
    BenchFlute flute = draw_good(model, plan, random);
    flute.fault = fault;
    plant(flute, random);
    find_truth(flute);
    if (fault != "one note off" || one_alone_off(flute)) return flute;
  }
}

std::string serial_text(int number) {
  const std::string digits = std::to_string(number);
  return "HW-" + std::string(4 - std::min<std::size_t>(4, digits.size()), '0') + digits;
}

/// Which fault the instrument has; empty: none.
std::string fault_of(int instrument, const BenchPlan& plan) {
  const auto faults = bench_faults();
  for (int k = 0; k < plan.faults; ++k)
    if (instrument == (2 * k + 1) * plan.instruments / (2 * plan.faults))
      return faults[static_cast<std::size_t>(k) % faults.size()];
  return "";
}

}  // namespace

std::vector<std::string> bench_faults() {
  return {"one note off", "octave wide", "spread too large", "silent take", "wrong key", "body too long"};
}

std::vector<int> bench_notes(const FluteModel& flute) { return major_scale(flute.notes.front().midi, 24); }

Strengths bench_strengths() { return {-1.2, 1.0}; }

std::vector<BenchFlute> draw_bench(const BenchPlan& plan) {
  std::vector<BenchFlute> bench;
  const FluteModel model = design(lowest_midi, plan.seed);
  const FluteModel tone_lower = design(lowest_midi - 2, plan.seed);
  for (int i = 0; i < plan.instruments; ++i) {
    Random random(plan.seed * 1000003 + 1000 + static_cast<std::uint64_t>(i));
    const std::string fault = fault_of(i, plan);
    bench.push_back(fault.empty() ? draw_good(model, plan, random)
                                  : draw_faulty(fault == "wrong key" ? tone_lower : model, plan, fault, random));
    bench.back().serial = serial_text(1001 + i);
  }
  return bench;
}

BenchFlute draw_keeper(const BenchPlan& plan) {
  Random random(plan.seed * 1000003 + 23);
  BenchFlute keeper = draw_good(design(lowest_midi, plan.seed), plan, random);
  keeper.serial = serial_text(1);
  return keeper;
}

}  // namespace windway::synthesis
