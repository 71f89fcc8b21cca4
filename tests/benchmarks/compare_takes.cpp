// SPDX-License-Identifier: GPL-3.0-or-later
// How honest compare and check are: pairs of takes of invented whistles whose head was drawn out between, their stated
// 95 % intervals held against the truth. The truth of a change is that of the flute's response to the strengths meant,
// of the factor 1 (the synthesis follows the law), of the rest of a move what the player left of it.
// usage: windway_compare_takes [pairs = 200 [first seed = 1]]
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <optional>
#include <string>
#include <vector>

#include "compare/compare.hpp"
#include "scale/range.hpp"
#include "slide/head_check.hpp"
#include "support/find_holds.hpp"
#include "support/plan.hpp"
#include "support/played_takes.hpp"
#include "units/units.hpp"

namespace windway {
namespace {

using synthesis::FluteModel;
using synthesis::PlayedTake;
using synthesis::Random;
using synthesis::TakeKind;

constexpr double speed_of_sound_m_s = 346.2677;  // as the truth has it
constexpr int lowest_midi = 74;
constexpr std::array moves_mm = {1.0, 2.0, 4.0};
/// How unlike two takes of a flute warmed up by its player may be, SD: none, and a fifth of a degree.
constexpr std::array warmth_sds_cents = {0.0, 0.6};

/// The intervals of one quantity.
struct Tally {
  int count = 0;
  int inside = 0;
  int near = 0;  ///< within `near_error`
  double squares = 0;
  double u95_sum = 0;

  void add(double error, double u95, double near_error) {
    ++count;
    inside += std::abs(error) <= u95;
    near += std::abs(error) <= near_error;
    squares += error * error;
    u95_sum += u95;
  }
};

struct Tallies {
  Tally change, mean, factor, rest, rest_of_all;
};

/// The steps of windway::measure, from samples in memory; the player has named kind and lowest note.
Measurement measured(const synthesis::SyntheticTake& sound) {
  InstrumentHint hint;
  hint.kind = Kind::whistle;
  hint.instrument = builtin_instrument(Kind::whistle, lowest_midi);
  Measurement out;
  const PitchTrack track = track_pitch(sound.samples, sound.rate_hz, pitch_rules(hint, 440.0));
  out.naming = name_holds(in_range(find_holds(track, {}), hint, 440.0), hint, {440.0});
  out.breath = measure_breath(out.naming, {});
  out.speed_of_sound_m_s = speed_of_sound_m_s;
  if (!out.breath.notes.empty())
    out.compromise = find_compromise(out.breath.notes, {}, 440.0, speed_of_sound_m_s, out.breath.repeat_db);
  return out;
}

double true_moderate_hz(const FluteModel& flute, int midi) {
  return hz_at_cents(target_hz(flute, midi), cents_at(note_of(flute, midi), 0.0));
}

FluteModel warmer(FluteModel flute, double cents) {
  for (synthesis::NoteModel& note : flute.notes) note.error_cents += cents;
  return flute;
}

/// One blow of the note that the take before recommends, meant to be moderate and off by a tenth of a doubling (SD):
/// the most that drawn takes scatter.
std::vector<NoteBreath> one_note(const FluteModel& flute, int midi, Random& random) {
  auto plan = synthesis::note_by_note({midi}, {Blow::moderate}, {}, {{1.5, 2.5}, {0.2, 0.3}}, random);
  const double off = random.normal(0.0, 0.1);
  plan.front().from_doublings += off;
  plan.front().to_doublings += off;
  return measured(synthesise_take(flute, plan, {}, random)).breath.notes;
}

void judge_change(const FluteModel& before, const FluteModel& after, const Comparison& found, Tallies& tallies) {
  double true_mean = 0;
  for (const NoteChange& note : found.notes) {
    const double truth =
        cents_between(true_moderate_hz(before, note.note.midi), true_moderate_hz(after, note.note.midi));
    tallies.change.add(note.change.cents - truth, note.change.u95_cents, 1.0);
    true_mean += truth / static_cast<double>(found.notes.size());
  }
  tallies.mean.add(found.mean_change.cents - true_mean, found.mean_change.u95_cents, 1.0);
  tallies.factor.add(found.move->factor.factor - 1.0, found.move->factor.u95, 0.02);
}

/// The head was drawn out by `out_mm`: what does one note, and what do all, say is left of the move that was advised?
void judge_check(const Measurement& before, const FluteModel& after, const Measurement& all, double out_mm,
                 Random& random, Tallies& tallies) {
  const double left_mm = before.compromise->slide_mm - out_mm;
  const auto add = [&](const std::vector<NoteBreath>& later, Tally& tally) {
    const auto check = check_head(before.breath.notes, *before.compromise, {}, later, before.breath.repeat_db);
    if (check) tally.add(check->rest_mm - left_mm, check->rest_u95_mm, 0.3);
  };
  add(one_note(after, before.compromise->check_note.id.midi, random), tallies.rest);
  add(all.breath.notes, tallies.rest_of_all);
}

/// All moves of one flute after one take.
void judge_flute(std::uint64_t seed, double warmth_sd_cents, std::array<Tallies, moves_mm.size()>& tallies) {
  Random random(seed * 7919);
  const FluteModel flute = draw_flute({.overall_cents = random.uniform(-5.0, 20.0)}, random);
  const Measurement before = measured(play_take_on(flute, TakeKind::steps, 10 * seed).sound);
  if (!before.compromise) return;
  for (std::size_t m = 0; m < moves_mm.size(); ++m) {
    const FluteModel after = warmer(drawn_out(flute, moves_mm[m]), random.normal(0.0, 1.0) * warmth_sd_cents);
    const Measurement all = measured(play_take_on(after, TakeKind::steps, 10 * seed + 1 + m).sound);
    judge_change(flute, after, compare(before, all, {moves_mm[m]}), tallies[m]);
    judge_check(before, after, all, moves_mm[m], random, tallies[m]);
  }
}

void print_row(double warmth_sd_cents, double move_mm, const char* quantity, const Tally& t, const char* near) {
  if (t.count == 0) return;
  std::printf("| %.1f | %.0f | %s | %d | %.1f | %.3f | %.3f | %.1f (%s) |\n", warmth_sd_cents, move_mm, quantity,
              t.count, 100.0 * t.inside / t.count, std::sqrt(t.squares / t.count), t.u95_sum / t.count,
              100.0 * t.near / t.count, near);
}

void print_table(int pairs, std::uint64_t first_seed) {
  std::printf(
      "| warmth, SD cents | move, mm | quantity | n | in u95 %% | RMS error | mean u95 | near %% |\n"
      "|---|---|---|---|---|---|---|---|\n");
  for (const double warmth_sd_cents : warmth_sds_cents) {
    std::array<Tallies, moves_mm.size()> tallies;
    for (int pair = 0; pair < pairs; ++pair)
      judge_flute(first_seed + static_cast<std::uint64_t>(pair), warmth_sd_cents, tallies);
    for (std::size_t m = 0; m < moves_mm.size(); ++m) {
      print_row(warmth_sd_cents, moves_mm[m], "change of a note, cents", tallies[m].change, "1 cent");
      print_row(warmth_sd_cents, moves_mm[m], "mean change, cents", tallies[m].mean, "1 cent");
      print_row(warmth_sd_cents, moves_mm[m], "factor", tallies[m].factor, "0.02");
      print_row(warmth_sd_cents, moves_mm[m], "rest by one note, mm", tallies[m].rest, "0.3 mm");
      print_row(warmth_sd_cents, moves_mm[m], "rest by all notes, mm", tallies[m].rest_of_all, "0.3 mm");
    }
    std::fflush(stdout);
  }
}

}  // namespace
}  // namespace windway

int main(int argc, char** argv) {
  const int pairs = argc > 1 ? std::atoi(argv[1]) : 200;
  const std::uint64_t first_seed = argc > 2 ? std::strtoull(argv[2], nullptr, 10) : 1;
  windway::print_table(std::max(pairs, 1), first_seed);
  return 0;
}
