// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/played_takes.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numeric>
#include <utility>

#include "support/take_draw.hpp"

namespace windway::synthesis {
namespace {

/// In the order of TakeKind.
constexpr std::array names_of_kinds = {"steps",        "rounds",     "swells",     "vibrato",   "messy",
                                       "recorder",     "levelled",   "room",       "church",    "tremolo",
                                       "deep_tremolo", "diminuendo", "dying",      "live_room", "whine",
                                       "four",         "one_again",  "swell_room", "loud_noise"};

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

/// Replaces what the strengths alone give by the mean over the note's blows of what was meant in each: its tremolo, its
/// fall. Swells keep theirs.
void blow_means(const PlayedTake& take, TrueNote& note) {
  std::map<Blow, std::vector<double>> meant;
  for (std::size_t i = 0; i < take.blowings.size(); ++i) {
    const TrueHold& h = take.sound.holds[i];
    if (h.midi != note.midi || h.blow == Blow::swell) continue;
    const Span steady{h.attack_s, h.end_s - h.start_s - h.release_s};
    meant[h.blow].push_back(meant_cents(take.flute, take.blowings[i], steady));
  }
  for (const auto& [blow, cents] : meant) {
    const double mean = std::accumulate(cents.begin(), cents.end(), 0.0) / static_cast<double>(cents.size());
    if (blow == Blow::soft && note.soft_cents) note.soft_cents = mean;
    if (blow == Blow::moderate) note.moderate_cents = mean;
    if (blow == Blow::hard && note.hard_cents) note.hard_cents = mean;
  }
  if (note.spread_cents) note.spread_cents = *note.hard_cents - *note.soft_cents;
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
  make_flute_of(kind, take.flute, random);
  take.strengths = {random.uniform(-1.5, -1.0), random.uniform(0.8, 1.2)};
  Performance performance;
  performance.playing = draw_playing(kind, random);
  performance.chain = draw_chain(kind, random);
  const bool messy = kind == TakeKind::messy;
  if (messy && random.chance(0.5)) performance.talk_after_blows = 5;
  take.blowings = draw_blows(kind, take.flute, take.strengths, random);
  const double scatter_doublings = messy ? random.uniform(0.05, 0.2) : random.uniform(0.0, 0.1);
  std::vector<Blowing> blown = take.blowings;
  scatter_strengths(blown, scatter_doublings, random);
  if (may_warm) draw_warming(blown, performance, random);
  take.sound = synthesise_take(take.flute, blown, performance, random);
  draw_whine(kind, take.flute, take.strengths, take.sound, random);
  return take;
}

}  // namespace

std::vector<TakeKind> take_kinds() {
  std::vector<TakeKind> kinds;
  for (std::size_t i = 0; i < names_of_kinds.size(); ++i) kinds.push_back(static_cast<TakeKind>(i));
  return kinds;
}

std::string kind_name(TakeKind kind) { return names_of_kinds[static_cast<std::size_t>(kind)]; }

PlayedTake play_take(TakeKind kind, std::uint64_t seed) {
  Random random(seed * 64 + static_cast<std::uint64_t>(kind));
  return played_on(draw_flute_of(kind, random), kind, true, random);
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
    blow_means(take, note);
    note.moderate_cents += warmed_cents;
    if (note.soft_cents) *note.soft_cents += warmed_cents;
    if (note.hard_cents) *note.hard_cents += warmed_cents;
  }
  return notes;
}

}  // namespace windway::synthesis
