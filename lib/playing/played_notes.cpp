// SPDX-License-Identifier: GPL-3.0-or-later
#include "playing/played_notes.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "playing/vibrato_middle.hpp"
#include "units/coverage_factor.hpp"
#include "units/order_statistics.hpp"

namespace windway {
namespace {

constexpr double unseen_sd_cents = 5.0;  // between occurrences of a note, where no note sounds twice (judgement)
constexpr double unseen_degrees = 2.0;
constexpr double pooled_degrees = 4.0;      // what all notes together say of one note's scatter counts as so much
constexpr double measured_u95_cents = 0.4;  // of a median in the pitch track itself: room, ornaments, the track's ends
// A median scatters so much more than a mean (normal distribution).
const double median_over_mean = std::sqrt(0.5 * std::numbers::pi);

struct WeightedCents {
  double cents = 0;
  double weight = 0;
};

/// The mean of the values between two shares of the weight; `sorted` by cents.
double mean_between(const std::vector<WeightedCents>& sorted, double from_share, double to_share) {
  double total = 0;
  for (const WeightedCents& each : sorted) total += each.weight;
  double below = 0, sum = 0, weight = 0;
  for (const WeightedCents& each : sorted) {
    const double within = std::min(below + each.weight, to_share * total) - std::max(below, from_share * total);
    below += each.weight;
    if (within <= 0) continue;
    sum += within * each.cents;
    weight += within;
  }
  return sum / weight;
}

/// The value below which `share` of the weight lies, as a mean over a little to either side: between two occurrences
/// of a note lies a gap, over which the value itself would jump at a hair's difference in time.
double quantile(const std::vector<WeightedCents>& sorted, double share) {
  constexpr double to_either_side = 0.03;
  return mean_between(sorted, share - to_either_side, share + to_either_side);
}

/// All that one note's occurrences say.
struct NoteFrames {
  std::vector<WeightedCents> frames;  ///< from the target
  std::vector<WeightedCents> runs;    ///< median of each occurrence, weighted by its length, s
};

NoteFrames frames_of(const std::vector<MelodyNote>& occurrences, const MelodyVibrato& vibrato, double target_cents) {
  NoteFrames out;
  for (const MelodyNote& note : occurrences) {
    const double weight = note.sounded_s / static_cast<double>(note.steady.size());
    std::vector<double> cents = middle_cents(note, vibrato);
    for (double& each : cents) {
      each -= target_cents;
      out.frames.push_back({each, weight});
    }
    out.runs.push_back({*median_of(std::move(cents)), note.sounded_s});
  }
  std::ranges::sort(out.frames, {}, &WeightedCents::cents);
  return out;
}

/// Sum of squares of the runs about their note, and its degrees of freedom.
struct Scatter {
  double squares = 0;
  double degrees = 0;
};

Scatter scatter_of(const NoteFrames& note) {
  double sum = 0, weight = 0;
  for (const WeightedCents& run : note.runs) sum += run.weight * run.cents, weight += run.weight;
  Scatter out{0, static_cast<double>(note.runs.size()) - 1};
  for (const WeightedCents& run : note.runs)
    out.squares += run.weight * (run.cents - sum / weight) * (run.cents - sum / weight);
  out.squares *= static_cast<double>(note.runs.size()) / weight;
  return out;
}

double pooled_variance(const std::vector<NoteFrames>& notes) {
  Scatter all{unseen_degrees * unseen_sd_cents * unseen_sd_cents, unseen_degrees};
  for (const NoteFrames& note : notes) {
    const Scatter own = scatter_of(note);
    all.squares += own.squares;
    all.degrees += own.degrees;
  }
  return all.squares / all.degrees;
}

double median_u95_cents(const NoteFrames& note, double pooled_cents2) {
  const Scatter own = scatter_of(note);
  const double degrees = own.degrees + pooled_degrees;
  const double variance = (own.squares + pooled_degrees * pooled_cents2) / degrees;
  double weight = 0, squared = 0;
  for (const WeightedCents& run : note.runs) weight += run.weight, squared += run.weight * run.weight;
  const double runs = weight * weight / squared;  // as many alike would say as much
  return std::hypot(u95_factor(degrees) * (runs > 2 ? median_over_mean : 1.0) * std::sqrt(variance / runs),
                    measured_u95_cents);
}

PlayedPitch played_pitch(int midi, double note_hz, const NoteFrames& note, double pooled_cents2) {
  PlayedPitch out;
  out.midi = midi;
  out.target_hz = note_hz;
  out.occurrences = static_cast<int>(note.runs.size());
  for (const WeightedCents& run : note.runs) out.sounded_s += run.weight;
  out.median = {quantile(note.frames, 0.5), median_u95_cents(note, pooled_cents2)};
  out.lower_quartile_cents = quantile(note.frames, 0.25);
  out.upper_quartile_cents = quantile(note.frames, 0.75);
  return out;
}

}  // namespace

std::vector<PlayedPitch> played_notes(const std::map<int, std::vector<MelodyNote>>& occurrences,
                                      const Instrument& instrument, const Tuning& tuning) {
  const auto target = [&](int midi) { return target_hz({midi}, instrument, tuning); };
  const MelodyVibrato vibrato = find_vibrato(occurrences);
  std::vector<NoteFrames> frames;
  for (const auto& [midi, own] : occurrences)
    frames.push_back(frames_of(own, vibrato, cents_between(440.0, target(midi))));
  const double pooled_cents2 = pooled_variance(frames);
  std::vector<PlayedPitch> notes;
  double all_s = 0;
  for (const auto& [midi, own] : occurrences) {
    notes.push_back(played_pitch(midi, target(midi), frames[notes.size()], pooled_cents2));
    all_s += notes.back().sounded_s;
  }
  for (PlayedPitch& note : notes) note.time_share = note.sounded_s / all_s;
  return notes;
}

}  // namespace windway
