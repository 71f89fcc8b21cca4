// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/drawn_holds.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

#include "support/blow.hpp"
#include "support/flute_model.hpp"
#include "support/room.hpp"
#include "support/take.hpp"
#include "units/units.hpp"

namespace windway::synthesis {
namespace {

constexpr double edge_s = 0.5;
constexpr double long_s = 0.8;
constexpr double slip_share = 0.2;  // of the long holds
constexpr double gross_cents = 60.0;
constexpr double highest_share = 0.42;  // of the rate: above it no fundamental is recorded
// What recordings at 48, 44.1 and 16, and at 8 kHz are analysed at (recording/decimate.hpp).
constexpr std::array<double, 4> working_rates_hz = {16000.0, 14700.0, 16000.0, 8000.0};

struct Compass {
  const char* name;
  double lowest_midi, highest_midi;
};

Compass draw_compass(Random& random) {
  const double lot = random.uniform(0.0, 1.0);
  if (lot < 0.05) return {"low whistle", 55.0, 79.0};  // G3 to G5
  if (lot < 0.10) return {"garklein", 84.0, 108.0};    // C6 to C8
  return {"usual", 65.0, 98.0};                        // F4 to D7
}

/// Up to two harmonics stronger than the fundamental; the odd ones tell it from the octave.
int draw_harmonics(NoteModel& note, Random& random) {
  for (int k = 1; k < model_harmonics; ++k) {
    note.harmonic_db[static_cast<std::size_t>(k)] = -9.0 - 4.5 * k + random.normal(0.0, 3.0);
  }
  const int strong = static_cast<int>(random.uniform(0.0, 3.0));
  if (strong == 0) {
    note.tilt_db = random.uniform(0.6, 2.2);
    return 0;
  }
  for (const std::size_t odd : {2U, 4U}) note.harmonic_db[odd] = random.uniform(-12.0, 0.0);
  for (int i = 0; i < strong; ++i) {
    note.harmonic_db[static_cast<std::size_t>(random.uniform(1.0, 5.0))] = random.uniform(0.0, 12.0);
  }
  return strong;
}

struct Drawn {
  FluteModel flute;  // of a single note
  Blowing blowing;
  Hardship hardship;
};

Drawn draw_hold(const Compass& compass, double rate_hz, Random& random) {
  Drawn drawn;
  const double top_midi = 69.0 + 12.0 * std::log2(highest_share * rate_hz / 440.0);
  NoteModel note;
  note.midi =
      static_cast<int>(random.uniform(compass.lowest_midi, std::min(compass.highest_midi, top_midi - 1.0) + 1.0));
  note.error_cents = random.uniform(-30.0, 30.0);
  note.cents_per_doubling = random.uniform(4.0, 20.0);
  note.bend = random.uniform(0.12, 0.26);
  note.register_number = random.chance(0.4) ? 2 : 1;
  drawn.hardship.overblown = note.register_number > 1;
  drawn.hardship.strong_harmonics = draw_harmonics(note, random);
  drawn.hardship.breath_db = random.uniform(8.0, 30.0);
  drawn.flute.breath_db =
      drawn.hardship.breath_db - db_from_power(tone_power(note, target_hz(drawn.flute, note.midi), rate_hz));
  drawn.flute.breath_power = 1.0;  // the breath noise stays as far under the tone as it was drawn
  drawn.flute.ring = random.uniform(0.3, 0.9);
  note.loudness_db = -db_from_power(2.0 * tone_power(note, target_hz(drawn.flute, note.midi), rate_hz));
  drawn.flute.notes = {note};
  drawn.blowing.midi = note.midi;
  drawn.blowing.from_doublings = drawn.blowing.to_doublings = random.uniform(-1.4, 1.1);
  drawn.blowing.duration_s = random.uniform(0.4, 1.2);
  drawn.blowing.gap_s = random.uniform(0.12, 0.3);
  const bool octave_is_recorded = 2.0 * target_hz(drawn.flute, note.midi) < highest_share * rate_hz;
  if (octave_is_recorded && drawn.blowing.duration_s > long_s && random.chance(slip_share))
    drawn.hardship.slip_s = random.uniform(0.08, 0.18);
  return drawn;
}

RecordingChain draw_chain(Random& random) {
  RecordingChain chain;
  if (random.chance(1.0 / 3.0)) {
    chain.reverb_s = random.uniform(0.3, 1.2);
    chain.reverb_db = random.uniform(-14.0, -7.0);
  }
  return chain;
}

double overlap_s(const DrawnHold& drawn, const Hold& hold) {
  return std::min(drawn.end_s, hold.end_s) - std::max(drawn.start_s, hold.start_s);
}

}  // namespace

DrawnTake draw_take(std::uint64_t seed, int holds) {
  Random random(seed);
  const Compass compass = draw_compass(random);
  const RecordingChain chain = draw_chain(random);
  DrawnTake take;
  take.rate_hz = working_rates_hz[static_cast<std::size_t>(random.uniform(0.0, 4.0))];
  take.compass = compass.name;
  take.room = chain.reverb_s > 0.0;
  const auto samples_in = [&](double s) { return static_cast<std::size_t>(std::lround(s * take.rate_hz)); };
  TrueSegmentation sounding;
  std::vector<double> dry(samples_in(edge_s), 0.0);
  for (int i = 0; i < holds; ++i) {
    const Drawn drawn = draw_hold(compass, take.rate_hz, random);
    const BlowPlace place{.rate_hz = take.rate_hz, .slip_s = drawn.hardship.slip_s};
    const RenderedBlow blow = render_blow(drawn.flute, drawn.blowing, {}, place, random);
    const double mean_cents =
        std::accumulate(blow.cents.begin(), blow.cents.end(), 0.0) / static_cast<double>(blow.cents.size());
    const TrueHold hold = true_hold(blow, drawn.blowing, static_cast<double>(dry.size()) / take.rate_hz, take.rate_hz);
    dry.insert(dry.end(), blow.samples.begin(), blow.samples.end());
    const double hz = hz_at_cents(target_hz(drawn.flute, hold.midi), mean_cents);
    take.holds.push_back({hold.start_s, hold.end_s, hz, hold.broken, drawn.hardship});
    sounding.push_back(stretch_of(hold));
    dry.resize(dry.size() + samples_in(drawn.blowing.gap_s), 0.0);
  }
  dry.resize(dry.size() + samples_in(edge_s), 0.0);
  const auto heard = through(chain, std::move(dry), take.rate_hz, random);
  take.samples.assign(heard.begin(), heard.end());
  take.segmentation = with_echoes(sounding, chain, take.samples, take.rate_hz);
  return take;
}

bool Verdict::gross() const { return std::abs(worst_cents) > gross_cents; }

bool missed(const DrawnHold& drawn, const Verdict& verdict) {
  return !verdict.gross() && verdict.found_s < 0.5 * (drawn.end_s - drawn.start_s);
}

Verdicts judge(const std::vector<DrawnHold>& blown, const std::vector<Hold>& found) {
  Verdicts verdicts{std::vector<Verdict>(blown.size()), {}};
  for (const Hold& hold : found) {
    const auto drawn = std::max_element(blown.begin(), blown.end(), [&](const auto& a, const auto& b) {
      return overlap_s(a, hold) < overlap_s(b, hold);
    });
    if (drawn == blown.end() || overlap_s(*drawn, hold) < 0.5 * (hold.end_s - hold.start_s)) {
      verdicts.invented.push_back(hold);
      continue;
    }
    Verdict& verdict = verdicts.holds[static_cast<std::size_t>(drawn - blown.begin())];
    const double off_cents = cents_between(drawn->hz, hold.frequency_hz);
    ++verdict.pieces;
    if (std::abs(off_cents) > std::abs(verdict.worst_cents)) verdict.worst_cents = off_cents;
    if (std::abs(off_cents) <= gross_cents) verdict.found_s += overlap_s(*drawn, hold);
  }
  return verdicts;
}

}  // namespace windway::synthesis
