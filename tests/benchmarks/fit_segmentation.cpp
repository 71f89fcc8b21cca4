// SPDX-License-Identifier: GPL-3.0-or-later
// Fits the parameters of the segmentation (segmentation/segmentation_model.hpp) to drawn takes whose holds are known:
// one parameter after the other is moved as long as that makes the expected faults fewer. Prints faults by round and
// the parameters found; what they are worth is seen on other draws (windway_gross_errors, windway_coverage). usage:
// windway_fit_segmentation [TAKES_A_KIND [FIRST_SEED [ROUNDS]]]
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <numbers>
#include <string>
#include <vector>

#include "fit.hpp"
#include "pitch/pitch_track.hpp"
#include "segmentation/segmentation.hpp"
#include "support/drawn_holds.hpp"
#include "support/noise.hpp"
#include "support/played_takes.hpp"
#include "support/take_draw.hpp"
#include "support/tones.hpp"
#include "units/units.hpp"

namespace {

using namespace windway;
using namespace windway::synthesis;

struct TrueBlow {
  double start_s = 0, end_s = 0;
};

struct KnownTake {
  std::string kind;
  FrameSeries series;
  double first_s = 0;
  std::vector<TrueBlow> blows;
};

constexpr std::array parameters = {
    Parameter<SegmentationModel>{"pitch_sd_cents", &SegmentationModel::pitch_sd_cents},
    Parameter<SegmentationModel>{"pitch_outlier_share", &SegmentationModel::pitch_outlier_share},
    Parameter<SegmentationModel>{"untonal_share", &SegmentationModel::untonal_share},
    Parameter<SegmentationModel>{"level_range_db", &SegmentationModel::level_range_db},
    Parameter<SegmentationModel>{"fall_db_per_s", &SegmentationModel::fall_db_per_s},
    Parameter<SegmentationModel>{"fall_sd_db_per_s", &SegmentationModel::fall_sd_db_per_s},
    Parameter<SegmentationModel>{"noise_ratio", &SegmentationModel::noise_ratio},
    Parameter<SegmentationModel>{"noise_ratio_sd", &SegmentationModel::noise_ratio_sd},
    Parameter<SegmentationModel>{"noise_fall_sd_db_per_s", &SegmentationModel::noise_fall_sd_db_per_s},
    Parameter<SegmentationModel>{"fade", &SegmentationModel::fade},
    Parameter<SegmentationModel>{"unheard", &SegmentationModel::unheard},
    Parameter<SegmentationModel>{"independent_share", &SegmentationModel::independent_share},
    Parameter<SegmentationModel>{"echo_fall_db_per_s", &SegmentationModel::echo_fall_db_per_s},
    Parameter<SegmentationModel>{"echo_fall_sd_db_per_s", &SegmentationModel::echo_fall_sd_db_per_s},
    Parameter<SegmentationModel>{"begin", &SegmentationModel::begin},
    Parameter<SegmentationModel>{"end", &SegmentationModel::end},
    Parameter<SegmentationModel>{"change", &SegmentationModel::change},
    Parameter<SegmentationModel>{"bend", &SegmentationModel::bend},
    Parameter<SegmentationModel>{"other", &SegmentationModel::other},
    Parameter<SegmentationModel>{"interrupt", &SegmentationModel::interrupt},
    Parameter<SegmentationModel>{"interrupted", &SegmentationModel::interrupted},
    Parameter<SegmentationModel>{"slipped", &SegmentationModel::slipped},
    Parameter<SegmentationModel>{"shortest_blow_s", &SegmentationModel::shortest_blow_s},
};

KnownTake known_take(const std::string& kind, const PitchTrack& track) {
  return {kind, series_of(track), track.first_s, {}};
}

/// Notes with a tap, with slips into the octave, and slurred: what divides a blow, and what does not.
SyntheticTake interrupted_take(std::uint64_t seed) {
  Random random(seed);
  const FluteModel flute = draw_flute_of(TakeKind::steps, random);
  Performance performance;
  performance.playing.tap_cents = random.chance(0.5) ? random.uniform(-400.0, -150.0) : random.uniform(150.0, 400.0);
  performance.playing.register_breaks = seed % 2 == 0;
  if (seed % 3 == 0) performance.playing.tap_cents = 0.0;
  performance.chain = draw_chain(random.chance(0.3) ? TakeKind::room : TakeKind::steps, random);
  std::vector<Blowing> blowings = draw_blows(TakeKind::steps, flute, {}, random);
  if (seed % 4 == 3) {
    for (Blowing& blowing : blowings) blowing.gap_s = blowing.midi == (&blowing + 1)->midi ? 0.15 : 0.0;
    blowings.back().gap_s = 0.2;
  }
  return synthesise_take(flute, blowings, performance, random);
}

/// A cut of the sound in every blow, too short for a gap between two.
void cut_blows(SyntheticTake& take, Random& random) {
  for (const TrueHold& hold : take.holds) {
    const double cut_s = random.uniform(0.02, 0.048), at_s = 0.5 * (hold.start_s + hold.end_s);
    const auto from = static_cast<std::size_t>(at_s * take.rate_hz);
    const auto to = static_cast<std::size_t>((at_s + cut_s) * take.rate_hz);
    for (std::size_t i = from; i < to; ++i) take.samples[i] *= 0.01F;
  }
}

/// What is no blow: talk, a plucked string, a siren.
std::vector<std::vector<float>> no_blows(double rate_hz, Random& random) {
  std::vector<double> talk = babble(10.0, rate_hz, random);
  std::vector<double> plucked;
  for (int k = 0; k < 5; ++k) {
    const double f0_hz = random.uniform(290.0, 900.0), falls_db_per_s = random.uniform(20.0, 60.0);
    for (double t_s = -0.3; t_s < 1.5; t_s += 1.0 / rate_hz) {
      double sample = 0;
      for (int h = 1; h <= 4 && t_s >= 0.0; ++h) {
        sample += 0.3 / h * amplitude_from_db(-falls_db_per_s * (0.5 + 0.5 * h) * t_s) *
                  std::sin(2.0 * std::numbers::pi * h * f0_hz * t_s);
      }
      plucked.push_back(sample);
    }
  }
  std::vector<float> glide =
      glide_tone({.rate_hz = rate_hz, .duration_s = random.uniform(2.0, 40.0), .f0_hz = 400.0}, 1900.0);
  std::vector<double> siren(glide.begin(), glide.end());
  std::vector<std::vector<float>> all;
  for (auto* samples : {&talk, &plucked, &siren}) {
    for (double& x : *samples) x += random.normal(0.0, 0.0003);
    all.push_back(to_float(*samples));
  }
  return all;
}

/// Two notes and a slide between them.
SyntheticTake slid_take(Random& random) {
  const double rate_hz = 24000.0, step_cents = random.uniform(150.0, 250.0), slide_s = random.uniform(0.1, 0.8);
  const ToneSpec low{.rate_hz = rate_hz, .duration_s = 1.0, .f0_hz = random.uniform(400.0, 1200.0)};
  ToneSpec slide = low, high = low;
  slide.duration_s = slide_s;
  high.f0_hz = hz_at_cents(low.f0_hz, step_cents);
  SyntheticTake take;
  take.rate_hz = rate_hz;
  take.samples = joined({silence(rate_hz, 0.3), steady_tone(low), glide_tone(slide, step_cents), steady_tone(high),
                         silence(rate_hz, 0.3)});
  add_white_noise(take.samples, 30.0, random);
  TrueHold first, second;
  first.start_s = 0.3, first.end_s = 1.3;
  second.start_s = 1.3 + slide_s, second.end_s = 2.3 + slide_s;
  take.holds = {first, second};
  return take;
}

/// Short gaps between blows of one note, in a dry room.
SyntheticTake gapped_take(Random& random) {
  const FluteModel flute = draw_flute_of(TakeKind::steps, random);
  std::vector<Blowing> blowings = draw_blows(TakeKind::steps, flute, {}, random);
  for (Blowing& blowing : blowings) blowing.gap_s = random.uniform(0.1, 0.14);
  return synthesise_take(flute, blowings, {}, random);
}

std::vector<KnownTake> known_takes(int takes_a_kind, std::uint64_t first_seed) {
  std::vector<KnownTake> takes;
  const auto add = [&](const std::string& kind, const SyntheticTake& sound) {
    takes.push_back(known_take(kind, track_pitch(sound.samples, sound.rate_hz, {})));
    for (const TrueHold& hold : sound.holds) takes.back().blows.push_back({hold.start_s, hold.end_s});
  };
  for (int i = 0; i < takes_a_kind; ++i) {
    const std::uint64_t seed = first_seed + static_cast<std::uint64_t>(i);
    for (const TakeKind kind : take_kinds()) add(kind_name(kind), play_take(kind, seed).sound);
    for (std::uint64_t k = 1; k < 3; ++k) {  // what a room does is drawn more often: there it is hardest
      add("church", play_take(TakeKind::church, seed + 100000 * k).sound);
      add("live_room", play_take(TakeKind::live_room, seed + 100000 * k).sound);
    }
    for (std::uint64_t k = 0; k < 6; ++k) add("interrupted", interrupted_take(6 * seed + k));
    Random random(seed);
    add("gaps", gapped_take(random));
    for (int k = 0; k < 5; ++k) add("slides", slid_take(random));
    for (std::uint64_t k = 1; k < 5; ++k) {
      add("swells", play_take(TakeKind::swells, seed + 100000 * k).sound);
      add("swell_room", play_take(TakeKind::swell_room, seed + 100000 * k).sound);
    }
    SyntheticTake cut = play_take(TakeKind::steps, seed + 500000).sound;
    cut_blows(cut, random);
    add("cut", cut);
    for (const std::vector<float>& samples : no_blows(24000.0, random))
      takes.push_back(known_take("no blows", track_pitch(samples, 24000.0, {})));
    for (std::uint64_t k = 0; k < 12; ++k) {
      const DrawnTake take = draw_take(1000 * seed + k);
      takes.push_back(known_take("drawn", track_pitch(take.samples, take.rate_hz, {})));
      for (const DrawnHold& hold : take.holds) takes.back().blows.push_back({hold.start_s, hold.end_s});
    }
  }
  return takes;
}

double overlap_s(const TrueBlow& a, const TrueBlow& b) {
  return std::min(a.end_s, b.end_s) - std::max(a.start_s, b.start_s);
}

/// Faults of a take; an end told wrong by as much as a window counts for a small part of one, so that those parameters
/// are kept apart that make no plain fault.
double faults(const KnownTake& take, const SegmentationModel& model) {
  constexpr double least_hold_s = 0.24, start_within_s = 0.05, end_within_s = 0.16, faults_per_s = 1.0,
                   most_end_fault = 0.2;
  double sum = 0;
  std::vector<TrueBlow> found;
  for (const Piece& piece : find_pieces(take.series, model)) {
    const auto time_s = [&](std::size_t frame) {
      return take.first_s + static_cast<double>(frame) * take.series.hop_s;
    };
    found.push_back({time_s(piece.first()), time_s(piece.last())});
  }
  std::vector<int> pieces_of_blow(take.blows.size(), 0);
  for (const TrueBlow& piece : found) {
    const double length_s = piece.end_s - piece.start_s;
    if (length_s < least_hold_s) continue;
    bool belongs = false;
    for (std::size_t b = 0; b < take.blows.size(); ++b) {
      const TrueBlow& blow = take.blows[b];
      if (overlap_s(blow, piece) < 0.5 * length_s) continue;
      belongs = true;
      ++pieces_of_blow[b];
      const double start_off_s = std::abs(piece.start_s - blow.start_s) - start_within_s;
      const double end_off_s = std::abs(piece.end_s + 0.5 * end_within_s - blow.end_s) - 0.5 * end_within_s;
      sum += std::clamp(faults_per_s * std::max(start_off_s, end_off_s), 0.0, most_end_fault);
    }
    sum += belongs ? 0.0 : 1.0;
  }
  for (const int pieces : pieces_of_blow) sum += std::abs(pieces - 1);
  return sum;
}

void print_by_kind(const std::vector<KnownTake>& takes, const SegmentationModel& model) {
  for (std::size_t i = 0; i < takes.size();) {
    const std::string kind = takes[i].kind;
    double sum = 0;
    std::size_t blows = 0;
    for (const KnownTake& take : takes) {
      if (take.kind != kind) continue;
      sum += faults(take, model);
      blows += take.blows.size();
    }
    bool first = true;
    for (std::size_t k = 0; k < i; ++k) first = first && takes[k].kind != kind;
    if (first) std::printf("  %-14s %6.2f faults of %zu blows\n", kind.c_str(), sum, blows);
    ++i;
  }
}

}  // namespace

int main(int argc, char** argv) {
  const int takes_a_kind = argc > 1 ? std::atoi(argv[1]) : 8;
  const std::uint64_t seed = argc > 2 ? std::strtoull(argv[2], nullptr, 10) : 300001;
  const int rounds = argc > 3 ? std::atoi(argv[3]) : 6;
  const std::vector<KnownTake> takes = known_takes(takes_a_kind, seed);
  print_by_kind(takes, {});
  std::printf("%zu takes; ", takes.size());
  const auto sum = [&](const SegmentationModel& model) { return all_faults(takes, model, faults); };
  print_by_kind(takes, fitted<SegmentationModel>({}, parameters, sum, rounds));
  return 0;
}
