// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/take_draw.hpp"

#include <algorithm>
#include <array>
#include <numbers>

#include "support/whine.hpp"
#include "units/units.hpp"

namespace windway::synthesis {
namespace {

constexpr std::array whistle_lowest_midi = {62, 65, 67, 70, 72, 74, 77, 79};
constexpr std::array recorder_lowest_midi = {60, 65, 72, 77};
constexpr int compass_semitones = 14;
constexpr Timing unhurried{{1.0, 1.5}, {0.12, 0.45}};

/// In what a kind differs from the usual take; a range without width: the usual.
struct Traits {
  Range tremolo_db{};          ///< of each blow
  Range fall_db_per_s{};       ///< of each blow
  Range breath_power{};        ///< the noise rises this many times as fast as the tone
  Range tone_to_noise_db{};    ///< RMS to RMS at a moderate breath
  Range second_harmonic_db{};  ///< over the fundamental, on a third of the notes
  Range reverb_s{};
  Range reverb_db{};
  int early_echoes = 0;
  Range whine_db{};  ///< against the hard blows
};

bool drawn(Range range) { return range.high > range.low; }

double draw(Range range, Random& random) { return random.uniform(range.low, range.high); }

Traits traits_of(TakeKind kind) {
  switch (kind) {
    case TakeKind::room:
      return {.reverb_s = {0.3, 0.7}, .reverb_db = {-16.0, -8.0}};
    case TakeKind::church:
      return {.reverb_s = {1.0, 1.8}, .reverb_db = {-4.0, 0.0}};
    case TakeKind::tremolo:
      return {.tremolo_db = {1.3, 1.8}, .breath_power = {2.0, 3.0}};
    case TakeKind::deep_tremolo:
      return {.tremolo_db = {2.4, 3.0}, .breath_power = {2.0, 3.0}};
    case TakeKind::diminuendo:
      return {.fall_db_per_s = {2.5, 4.0}};
    case TakeKind::dying:
      return {.fall_db_per_s = {9.0, 14.0}};
    case TakeKind::live_room:
      return {.second_harmonic_db = {5.0, 10.0}, .reverb_s = {0.5, 0.9}, .reverb_db = {-5.0, -1.0}, .early_echoes = 12};
    case TakeKind::whine:
      return {.whine_db = {-28.0, -20.0}};
    case TakeKind::swell_room:
      return {.reverb_s = {0.4, 0.6}, .reverb_db = {-13.0, -8.0}};
    case TakeKind::loud_noise:
      return {.tone_to_noise_db = {5.0, 7.0}};
    default:
      return {};
  }
}

/// In the order of the player's whim; a note may be skipped, a blow repeated.
std::vector<Blowing> by_whim(std::vector<int> notes, const Strengths& strengths, const Timing& timing, Random& random) {
  random.shuffle(notes);
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

/// One swell a note; of half of the takes there and back again.
std::vector<Blowing> swells_in_a_room(const std::vector<int>& notes, const Strengths& strengths, Random& random) {
  const bool and_back = random.chance(0.5);
  const Span length_s = and_back ? Span{3.8, 5.0} : Span{2.5, 3.4};
  auto out = note_by_note(notes, {Blow::swell}, strengths, {length_s, {0.2, 0.4}}, random);
  for (Blowing& b : out) b.and_back = and_back;
  return out;
}

std::vector<Blowing> planned_blows(TakeKind kind, const FluteModel& flute, const Strengths& strengths, Random& random) {
  const std::vector<int> notes = major_scale(flute.notes.front().midi, compass_semitones);
  const std::vector<Blow> three = {Blow::soft, Blow::moderate, Blow::hard};
  switch (kind) {
    case TakeKind::rounds:
      return round_by_round(notes, three, strengths, {}, random);
    case TakeKind::swells:
      return note_by_note(notes, {Blow::swell}, strengths, {{2.0, 2.8}, {0.2, 0.35}}, random);
    case TakeKind::messy:
      return by_whim(notes, strengths, {{0.5, 1.3}, {0.12, 0.4}}, random);
    case TakeKind::dying:
      return note_by_note(notes, {Blow::moderate}, strengths, {{0.35, 0.6}, {0.15, 0.45}}, random);
    case TakeKind::four:
      return four_strengths(notes, strengths, unhurried, random);
    case TakeKind::one_again:
      return once_and_again(notes, {1.0 / flute.db_per_doubling, 2.0 / flute.db_per_doubling}, unhurried, random);
    case TakeKind::swell_room:
      return swells_in_a_room(notes, strengths, random);
    default:
      return note_by_note(notes, three, strengths, kind < TakeKind::tremolo ? Timing{} : unhurried, random);
  }
}

BreathMotion draw_motion(const Traits& traits, Random& random) {
  BreathMotion motion;
  if (drawn(traits.tremolo_db)) {
    motion.tremolo_db = draw(traits.tremolo_db, random);
    motion.tremolo_hz = random.uniform(4.5, 6.0);
    motion.tremolo_turn_rad = random.uniform(0.0, 2.0 * std::numbers::pi);
  }
  if (drawn(traits.fall_db_per_s)) motion.fall_db_per_s = draw(traits.fall_db_per_s, random);
  return motion;
}

}  // namespace

FluteModel draw_flute_of(TakeKind kind, Random& random) {
  FluteDraw flute;
  flute.kind = kind == TakeKind::recorder ? Kind::recorder : Kind::whistle;
  flute.lowest_midi =
      flute.kind == Kind::recorder ? random.one_of(recorder_lowest_midi) : random.one_of(whistle_lowest_midi);
  flute.overall_cents = random.uniform(-20.0, 20.0);
  flute.breath_db = random.uniform(24.0, 34.0);
  return draw_flute(flute, random);
}

void make_flute_of(TakeKind kind, FluteModel& flute, Random& random) {
  const Traits traits = traits_of(kind);
  if (drawn(traits.breath_power)) flute.breath_power = draw(traits.breath_power, random);
  if (drawn(traits.tone_to_noise_db)) {
    const NoteModel& lowest = flute.notes.front();
    const double tone_db = db_from_power(tone_power(lowest, target_hz(flute, lowest.midi), Performance{}.rate_hz));
    flute.breath_db = draw(traits.tone_to_noise_db, random) - tone_db;
  }
  if (!drawn(traits.second_harmonic_db)) return;
  for (NoteModel& note : flute.notes) {
    if (random.chance(1.0 / 3.0)) note.harmonic_db[1] = draw(traits.second_harmonic_db, random);
  }
}

Playing draw_playing(TakeKind kind, Random& random) {
  Playing playing;
  playing.breath_wander_doublings = random.uniform(0.01, 0.05);
  playing.pitch_wander_cents = random.uniform(0.2, 0.5);
  playing.sag_doublings = random.uniform(0.0, 0.08);
  if (kind == TakeKind::swells || kind == TakeKind::swell_room)
    playing.sag_doublings = 0.0;  // its ends are what the player makes of them
  playing.sag_cents_per_s = 0.7;  // L. Fuks, TMH-QPSR 37/4 (1996) 37; time of a phrase from memory
  if (kind == TakeKind::vibrato) {
    playing.vibrato_cents = random.uniform(6.0, 16.0);
    playing.vibrato_hz = random.uniform(4.6, 5.8);
  }
  if (kind == TakeKind::messy && random.chance(0.3)) playing.tap_cents = 200.0;
  return playing;
}

RecordingChain draw_chain(TakeKind kind, Random& random) {
  const Traits traits = traits_of(kind);
  RecordingChain chain;
  chain.levelled = kind == TakeKind::levelled;
  chain.early_echoes = traits.early_echoes;
  if (drawn(traits.reverb_s)) chain.reverb_s = draw(traits.reverb_s, random);
  if (drawn(traits.reverb_db)) chain.reverb_db = draw(traits.reverb_db, random);
  return chain;
}

std::vector<Blowing> draw_blows(TakeKind kind, const FluteModel& flute, const Strengths& strengths, Random& random) {
  std::vector<Blowing> blowings = planned_blows(kind, flute, strengths, random);
  for (Blowing& b : blowings) b.motion = draw_motion(traits_of(kind), random);
  return blowings;
}

void draw_whine(TakeKind kind, const FluteModel& flute, const Strengths& strengths, SyntheticTake& sound,
                Random& random) {
  const Traits traits = traits_of(kind);
  if (drawn(traits.whine_db)) add_whine(flute, strengths, draw(traits.whine_db, random), sound, random);
}

}  // namespace windway::synthesis
