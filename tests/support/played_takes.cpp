// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/played_takes.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace windway::synthesis {
namespace {

constexpr std::array whistle_lowest_midi = {62, 65, 67, 70, 72, 74, 77, 79};
constexpr std::array recorder_lowest_midi = {60, 65, 72, 77};
constexpr int compass_semitones = 14;

template <std::size_t count>
int one_of(const std::array<int, count>& values, Random& random) {
  return values[static_cast<std::size_t>(random.uniform(0.0, static_cast<double>(count)))];
}

FluteModel drawn_flute(TakeKind kind, Random& random) {
  FluteDraw draw;
  draw.kind = kind == TakeKind::recorder ? Kind::recorder : Kind::whistle;
  draw.lowest_midi =
      draw.kind == Kind::recorder ? one_of(recorder_lowest_midi, random) : one_of(whistle_lowest_midi, random);
  draw.overall_cents = random.uniform(-20.0, 20.0);
  draw.breath_db = random.uniform(24.0, 34.0);
  return draw_flute(draw, random);
}

Playing drawn_playing(TakeKind kind, Random& random) {
  Playing playing;
  playing.breath_wander_doublings = random.uniform(0.01, 0.05);
  playing.pitch_wander_cents = random.uniform(0.2, 0.5);
  playing.sag_doublings = random.uniform(0.0, 0.08);
  if (kind == TakeKind::swells) playing.sag_doublings = 0.0;  // its ends are what the player makes of them
  playing.sag_cents_per_s = 0.7;  // L. Fuks, TMH-QPSR 37/4 (1996) 37; time of a phrase from memory
  if (kind == TakeKind::vibrato) {
    playing.vibrato_cents = random.uniform(6.0, 16.0);
    playing.vibrato_hz = random.uniform(4.6, 5.8);
  }
  if (kind == TakeKind::messy && random.chance(0.3)) playing.tap_cents = 200.0;
  return playing;
}

RecordingChain drawn_chain(TakeKind kind, Random& random) {
  RecordingChain chain;
  chain.levelled = kind == TakeKind::levelled;
  if (kind == TakeKind::room) {
    chain.reverb_s = random.uniform(0.3, 0.7);
    chain.reverb_db = random.uniform(-16.0, -8.0);
  } else if (kind == TakeKind::church) {
    chain.reverb_s = random.uniform(1.0, 1.8);
    chain.reverb_db = random.uniform(-4.0, 0.0);
  }
  return chain;
}

/// In the order of the player's whim; a note may be skipped, a blow repeated.
std::vector<Blowing> by_whim(std::vector<int> notes, const Strengths& strengths, const Timing& timing, Random& random) {
  for (std::size_t i = notes.size(); i > 1; --i)
    std::swap(notes[i - 1], notes[static_cast<std::size_t>(random.uniform(0.0, static_cast<double>(i)))]);
  std::vector<Blowing> out;
  for (const int midi : notes) {
    if (random.chance(0.1)) continue;
    for (const Blow blow : {Blow::soft, Blow::moderate, Blow::hard}) {
      for (int repeat = random.chance(0.25) ? 2 : 1; repeat > 0; --repeat)
        out.push_back(note_by_note({midi}, {blow}, strengths, timing, random).front());
    }
  }
  return out;
}

std::vector<Blowing> planned_blows(TakeKind kind, int lowest_midi, const Strengths& strengths, Random& random) {
  const std::vector<int> notes = major_scale(lowest_midi, compass_semitones);
  const std::vector<Blow> three = {Blow::soft, Blow::moderate, Blow::hard};
  switch (kind) {
    case TakeKind::rounds:
      return round_by_round(notes, three, strengths, {}, random);
    case TakeKind::swells:
      return note_by_note(notes, {Blow::swell}, strengths, {{2.0, 2.8}, {0.2, 0.35}}, random);
    case TakeKind::messy:
      return by_whim(notes, strengths, {{0.5, 1.3}, {0.12, 0.4}}, random);
    default:
      return note_by_note(notes, three, strengths, {}, random);
  }
}

void scatter_strengths(std::vector<Blowing>& blowings, double sd_doublings, Random& random) {
  for (Blowing& b : blowings) {
    const double off = random.normal(0.0, sd_doublings);
    b.from_doublings += off;
    b.to_doublings += b.blow == Blow::swell ? random.normal(0.0, sd_doublings) : off;
  }
}

/// Half of the flutes are warm; the others rise by 10 to 25 cents from a room's cold to the breath's warmth (3 cents a
/// degree), with a memory of about a minute, and have been played for up to a minute before the take (invented).
void draw_warming(const std::vector<Blowing>& blowings, Performance& performance, Random& random) {
  const double size_cents = random.chance(0.5) ? random.uniform(10.0, 25.0) : 0.0;
  const double memory_s = 60.0 * std::exp(random.normal(0.0, 0.4));
  const double played_s = random.uniform(0.0, 60.0);
  double length_s = 1.0;  // with the silence before and after
  for (const Blowing& b : blowings) length_s += b.duration_s + b.gap_s;
  performance.warming_cents = -size_cents * std::exp(-played_s / memory_s) * std::expm1(-length_s / memory_s);
  performance.warming_memory_s = memory_s;
}

double moderate_time_s(const SyntheticTake& sound, int midi) {
  std::array<double, 2> sum_s{}, count{};  // all blows, moderate ones
  for (const TrueHold& h : sound.holds) {
    if (h.midi != midi) continue;
    for (std::size_t of = 0; of < (h.blow == Blow::moderate ? 2U : 1U); ++of) {
      sum_s[of] += 0.5 * (h.start_s + h.end_s);
      count[of] += 1.0;
    }
  }
  return count[1] > 0.0 ? sum_s[1] / count[1] : sum_s[0] / count[0];
}

PlayedTake played_on(FluteModel flute, TakeKind kind, bool may_warm, Random& random) {
  PlayedTake take;
  take.flute = std::move(flute);
  take.strengths = {random.uniform(-1.5, -1.0), random.uniform(0.8, 1.2)};
  Performance performance;
  performance.playing = drawn_playing(kind, random);
  performance.chain = drawn_chain(kind, random);
  const bool messy = kind == TakeKind::messy;
  if (messy && random.chance(0.5)) performance.talk_after_blows = 5;
  take.blowings = planned_blows(kind, take.flute.notes.front().midi, take.strengths, random);
  const double scatter_doublings = messy ? random.uniform(0.05, 0.2) : random.uniform(0.0, 0.1);
  std::vector<Blowing> blown = take.blowings;
  scatter_strengths(blown, scatter_doublings, random);
  if (may_warm) draw_warming(blown, performance, random);
  take.sound = synthesise_take(take.flute, blown, performance, random);
  return take;
}

}  // namespace

std::vector<TakeKind> take_kinds() {
  return {TakeKind::steps,    TakeKind::rounds,   TakeKind::swells, TakeKind::vibrato, TakeKind::messy,
          TakeKind::recorder, TakeKind::levelled, TakeKind::room,   TakeKind::church};
}

std::string kind_name(TakeKind kind) {
  constexpr std::array names = {"steps",    "rounds",   "swells", "vibrato", "messy",
                                "recorder", "levelled", "room",   "church"};
  return names[static_cast<std::size_t>(kind)];
}

PlayedTake play_take(TakeKind kind, std::uint64_t seed) {
  Random random(seed * 64 + static_cast<std::uint64_t>(kind));
  return played_on(drawn_flute(kind, random), kind, true, random);
}

PlayedTake play_take_on(const FluteModel& flute, TakeKind kind, std::uint64_t seed) {
  Random random(seed * 64 + static_cast<std::uint64_t>(kind));
  return played_on(flute, kind, false, random);
}

std::vector<TrueNote> response_at(const PlayedTake& take, std::optional<double> time_s) {
  std::vector<TrueNote> notes = true_notes(take.flute, take.blowings, take.strengths);
  for (TrueNote& note : notes) {
    const double at_s = time_s ? *time_s : moderate_time_s(take.sound, note.midi);
    const double warmed_cents = take.sound.warming.cents_at(at_s);
    note.moderate_cents += warmed_cents;
    if (note.soft_cents) *note.soft_cents += warmed_cents;
    if (note.hard_cents) *note.hard_cents += warmed_cents;
  }
  return notes;
}

}  // namespace windway::synthesis
