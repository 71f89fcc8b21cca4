// SPDX-License-Identifier: GPL-3.0-or-later
// Fits the parameters by which the octave is decided (pitch/octave_model.hpp) to drawn takes: one after the other is
// moved as long as that makes the expected faults fewer. Prints faults by round and the parameters found; what they are
// worth is seen on other draws (windway_gross_errors).
// usage: windway_fit_octave [TAKES [FIRST_SEED [ROUNDS]]]
#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <vector>

#include "fit.hpp"
#include "pitch/pitch_track.hpp"
#include "support/drawn_holds.hpp"
#include "support/played_takes.hpp"
#include "support/take_draw.hpp"
#include "units/units.hpp"

namespace {

using namespace windway;
using namespace windway::synthesis;

struct KnownTake {
  double rate_hz = 0;
  std::vector<float> samples;
  struct Note {
    double from_s = 0, to_s = 0, hz = 0;  ///< where it sounds in full
  };
  std::vector<Note> notes;
};

constexpr double edge_s = 0.05;  // an attack or a release
constexpr double seam_s = 0.03;  // of a slip: what a window smears over it

std::vector<KnownTake::Note> notes_of(const DrawnHold& hold) {
  const double from_s = hold.start_s + edge_s, to_s = hold.end_s - edge_s;
  if (!hold.slip) return {{from_s, to_s, hold.hz}};
  const Span& slip = *hold.slip;
  return {{from_s, slip.start_s - seam_s, hold.hz},
          {slip.start_s + seam_s, slip.end_s - seam_s, 2.0 * hold.hz},
          {slip.end_s + seam_s, to_s, hold.hz}};
}

constexpr std::array parameters = {
    Parameter<OctaveModel>{"in_step_correlation", &OctaveModel::in_step_correlation, 0.98},
    Parameter<OctaveModel>{"heard_at_most", &OctaveModel::heard_at_most, 0.95},
    Parameter<OctaveModel>{"faint", &OctaveModel::faint, 0.5},
    Parameter<OctaveModel>{"foreign", &OctaveModel::foreign, 0.95},
    Parameter<OctaveModel>{"phase_weight", &OctaveModel::phase_weight, 5.0},
    Parameter<OctaveModel>{"level_weight", &OctaveModel::level_weight, 5.0},
    Parameter<OctaveModel>{"blow_rise", &OctaveModel::blow_rise, 100.0},
    Parameter<OctaveModel>{"echo_fall", &OctaveModel::echo_fall, 1.0},
    Parameter<OctaveModel>{"slip_nats", &OctaveModel::slip_nats, 50.0},
    Parameter<OctaveModel>{"same_line_nats", &OctaveModel::same_line_nats, 200.0}};

std::vector<KnownTake> known_takes(int takes, std::uint64_t first_seed) {
  constexpr int holds_a_take = 20, played_one_in = 20;
  std::vector<KnownTake> known;
  for (int i = 0; i < takes; ++i) {
    const std::uint64_t seed = first_seed + static_cast<std::uint64_t>(i);
    const DrawnTake take = draw_take(seed, holds_a_take);
    known.push_back({take.rate_hz, take.samples, {}});
    for (const DrawnHold& hold : take.holds)
      for (const KnownTake::Note& note : notes_of(hold)) known.back().notes.push_back(note);
    if (i % played_one_in != 0) continue;
    for (const TakeKind kind : take_kinds()) {
      const PlayedTake played = play_take(kind, seed);
      known.push_back({played.sound.rate_hz, played.sound.samples, {}});
      for (const TrueHold& hold : played.sound.holds)
        known.back().notes.push_back(
            {hold.start_s + edge_s, hold.end_s - edge_s, hz_at_cents(440.0, 100.0 * (hold.midi - 69))});
    }
  }
  return known;
}

/// Notes in the wrong octave, each by the share of its inner frames that are, and once more where they are most.
double faults(const KnownTake& take, const OctaveModel& model) {
  PitchRules rules;
  rules.octave = model;
  const PitchTrack track = track_pitch(take.samples, take.rate_hz, rules);
  constexpr double wrong_cents = 300.0;
  double sum = 0;
  for (const KnownTake::Note& note : take.notes) {
    double frames = 0, wrong = 0;
    for (std::size_t i = 0; i < track.frames.size(); ++i) {
      const double at_s = track.time_s(i);
      if (at_s < note.from_s || at_s > note.to_s) continue;
      frames += 1.0;
      const auto& tone = track.frames[i].tone;
      wrong += tone && std::abs(cents_between(note.hz, tone->f0_hz)) > wrong_cents ? 1.0 : 0.0;
    }
    if (frames > 0) sum += wrong / frames + (2.0 * wrong > frames ? 1.0 : 0.0);
  }
  return sum;
}

}  // namespace

int main(int argc, char** argv) {
  const int count = argc > 1 ? std::atoi(argv[1]) : 600;
  const std::uint64_t seed = argc > 2 ? std::strtoull(argv[2], nullptr, 10) : 410001;
  const int rounds = argc > 3 ? std::atoi(argv[3]) : 3;
  const std::vector<KnownTake> takes = known_takes(count, seed);
  std::printf("%zu takes; ", takes.size());
  fitted<OctaveModel>(
      {}, parameters, [&](const OctaveModel& model) { return all_faults(takes, model, faults); }, rounds);
  return 0;
}
