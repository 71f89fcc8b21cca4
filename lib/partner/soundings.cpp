// SPDX-License-Identifier: GPL-3.0-or-later
#include "partner/soundings.hpp"

#include <algorithm>
#include <cmath>

#include "partner/note_runs.hpp"
#include "pitch/spectrum.hpp"
#include "units/order_statistics.hpp"
#include "units/units.hpp"

namespace windway {

namespace {

constexpr double level_window_s = 0.2;
constexpr double hop_s = 0.04;
constexpr double shortest_s = 0.4;
constexpr double beats_within_s = 0.7;
constexpr double softest_db = -32.0;
constexpr double ghost_db = 3.0;            // a new note makes its first partial louder by that at least
constexpr std::size_t together_frames = 6;  // notes that start within that are struck together
constexpr double edge_s = 0.06;             // of a note, past which a window of the measurement lies within it
constexpr double glide_cents = 30.0;

/// The spectra of a recording, at a steady hop, reduced to their lines and notes.
struct Frames {
  double first_s = 0;
  double hop_s = 0;
  double total_power = 0;  ///< of all lines of all spectra
  std::vector<std::vector<SpectralPeak>> peaks;
  std::vector<std::vector<HeardNote>> chords;

  double time_s(std::size_t frame) const { return first_s + static_cast<double>(frame) * hop_s; }
};

Frames frames_of(std::span<const float> samples, double rate_hz) {
  const std::size_t length = fast_length_samples(static_cast<std::size_t>(level_window_s * rate_hz));
  const auto hop = static_cast<std::size_t>(std::lround(hop_s * rate_hz));
  Spectrum spectrum(length);
  SpectrumFrame frame;
  Frames frames;
  frames.first_s = 0.5 * static_cast<double>(length) / rate_hz;
  frames.hop_s = static_cast<double>(hop) / rate_hz;
  for (std::size_t at = 0; at + length <= samples.size(); at += hop) {
    spectrum.transform(samples.subspan(at, length), frame);
    frames.peaks.push_back(spectral_peaks(frame, rate_hz / static_cast<double>(length)));
    frames.chords.push_back(notes_of_chord(frames.peaks.back()));
    for (const SpectralPeak& peak : frames.peaks.back()) frames.total_power += peak.power;
  }
  return frames;
}

double power_at(const std::vector<SpectralPeak>& peaks, double hz) {
  double power = 0;
  for (const SpectralPeak& peak : peaks)
    if (std::abs(cents_between(hz, peak.hz)) < 30.0) power = std::max(power, peak.power);
  return power;
}

double middle_hz(const LinkedNote& run) { return run.notes[run.notes.size() / 2].first_hz(); }

/// How many times the other's pitch the run's is, where that is a whole number within what stiff strings and ranks of
/// pipes do; empty else. Beyond eight, whatever sounds is near some multiple.
std::optional<int> multiple_of(const LinkedNote& run, const LinkedNote& lower) {
  constexpr double furthest = 8.5;
  constexpr double near_cents = 60.0;
  const double ratio = middle_hz(run) / middle_hz(lower);
  if (ratio < 1.5 || ratio > furthest || std::abs(cents_between(std::round(ratio), ratio)) > near_cents)
    return std::nullopt;
  return static_cast<int>(std::lround(ratio));
}

/// The loudest moment of the first partial in the first quarter of a second.
double first_power(const LinkedNote& run) {
  double power = 0;
  for (std::size_t i = 0; i < std::min(run.notes.size(), together_frames); ++i)
    power = std::max(power, run.notes[i].partials[0]->power);
  return power;
}

/// Whether it belongs to a lower note of which it is a multiple: an overtone or another rank that starts with it, or
/// what is left over when its first partial has died away, where nothing grows louder. Few play a note against another
/// more than two octaves above it.
bool is_ghost(const LinkedNote& run, const std::vector<LinkedNote>& runs, const Frames& frames) {
  constexpr std::size_t late_frames = 16;  // after the overtone: a first partial that beats may be heard late
  constexpr double most_above_db = 16.0;   // that an overtone is stronger than the first partial
  const std::size_t start = run.frames.front();
  const std::size_t before = start > together_frames ? start - together_frames : 0;
  const double power = first_power(run);
  const bool grows = power > power_from_db(ghost_db) * power_at(frames.peaks[before], run.notes.front().first_hz());
  return std::ranges::any_of(runs, [&](const LinkedNote& lower) {
    const auto multiple = &lower == &run ? std::nullopt : multiple_of(run, lower);
    if (!multiple) return false;
    const std::size_t lower_start = lower.frames.front();
    if (lower_start <= start + late_frames && start <= lower_start + together_frames)
      return 2 * lower.frames.size() > run.frames.size() && power < power_from_db(most_above_db) * first_power(lower);
    const bool follows = lower_start < start && lower.frames.back() + 2 * together_frames >= start;
    return follows && (!grows || *multiple > 4);
  });
}

std::optional<SpectralPeak> median_partial(const LinkedNote& run, std::size_t index) {
  std::vector<double> hz, power;
  for (const HeardNote& note : run.notes) {
    if (!note.partials[index]) continue;
    hz.push_back(note.partials[index]->hz);
    power.push_back(note.partials[index]->power);
  }
  if (4 * hz.size() < run.notes.size() || hz.size() < 4) return std::nullopt;
  return SpectralPeak{*median_of(hz), *median_of(power)};
}

Sounding sounding_of(const LinkedNote& run, const Frames& frames) {
  Sounding sounding;
  sounding.start_s = frames.time_s(run.frames.front()) + edge_s;
  sounding.end_s = frames.time_s(run.frames.back()) - edge_s;
  for (std::size_t i = 0; i < most_partials; ++i) sounding.partials[i] = median_partial(run, i);
  double own = 0;
  for (const HeardNote& note : run.notes) {
    own += note.power();
    sounding.loudest_power = std::max(sounding.loudest_power, note.power());
  }
  sounding.share = own / frames.total_power;
  return sounding;
}

/// Whether the two are ranks of one note, reeds some hertz apart that each frame hears as two lines.
bool are_ranks(const Sounding& one, const Sounding& other) {
  constexpr double furthest_hz = 20.0;
  constexpr double together_s = 0.25;
  return std::abs(one.start_s - other.start_s) < together_s &&
         std::abs(one.first_hz() - other.first_hz()) < furthest_hz &&
         std::abs(cents_between(one.first_hz(), other.first_hz())) < 50.0;
}

/// The soundings with ranks of one note put together, their partials halfway between.
std::vector<Sounding> with_ranks_joined(const std::vector<Sounding>& soundings) {
  std::vector<Sounding> joined;
  for (const Sounding& sounding : soundings) {
    const auto rank = std::ranges::find_if(joined, [&](const Sounding& other) { return are_ranks(sounding, other); });
    if (rank == joined.end()) {
      joined.push_back(sounding);
      continue;
    }
    for (std::size_t i = 0; i < most_partials; ++i) {
      auto& own = rank->partials[i];
      const auto& other = sounding.partials[i];
      if (own && other)
        own = SpectralPeak{0.5 * (own->hz + other->hz), own->power + other->power};
      else
        own.reset();
    }
    rank->end_s = std::max(rank->end_s, sounding.end_s);
  }
  return joined;
}

/// Whether most of the run lies within a few cents of its middle.
bool keeps_pitch(const LinkedNote& run, double middle_hz) {
  const auto is_off = [&](const HeardNote& note) {
    return std::abs(cents_between(middle_hz, note.first_hz())) > glide_cents;
  };
  return 5 * std::ranges::count_if(run.notes, is_off) <= std::ssize(run.notes);
}

/// Sounds from end to end of the recording at a multiple of the mains frequency, which power stations keep closely
/// (common practice, no source).
bool is_hum(const LinkedNote& run, double hz, const Frames& frames) {
  if (run.frames.front() > 3 || run.frames.back() + 4 < frames.chords.size()) return false;
  const auto is_multiple = [&](double mains_hz) {
    return hz < 700.0 && std::abs(hz - mains_hz * std::round(hz / mains_hz)) < 0.0015 * hz;
  };
  return is_multiple(50.0) || is_multiple(60.0);
}

/// Whether one at least is long enough, and all together are enough of the recording, to be played and not spoken.
bool are_played(const std::vector<Sounding>& soundings) {
  constexpr double least_s = 0.6;
  constexpr double least_share = 0.15;
  double share = 0, longest_s = 0;
  for (const Sounding& sounding : soundings) {
    share += sounding.share;
    longest_s = std::max(longest_s, sounding.end_s - sounding.start_s + 2.0 * edge_s);
  }
  return share >= least_share && longest_s >= least_s;
}

}  // namespace

std::vector<Sounding> find_soundings(std::span<const float> samples, double rate_hz) {
  const Frames frames = frames_of(samples, rate_hz);
  const std::vector<LinkedNote> linked = linked_notes(frames.chords);
  std::vector<Sounding> soundings;
  for (const LinkedNote& whole : linked) {
    if (is_ghost(whole, linked, frames)) continue;
    for (const LinkedNote& run : cut_at_strikes(whole, static_cast<std::size_t>(beats_within_s / frames.hop_s))) {
      const Sounding sounding = sounding_of(run, frames);
      if (sounding.end_s - sounding.start_s + 2 * edge_s < shortest_s || !sounding.partials[0]) continue;
      if (!keeps_pitch(run, sounding.first_hz()) || is_hum(run, sounding.first_hz(), frames)) continue;
      soundings.push_back(sounding);
    }
  }
  double loudest = 0;
  for (const Sounding& sounding : soundings) loudest = std::max(loudest, sounding.loudest_power);
  std::erase_if(soundings, [&](const Sounding& s) { return s.loudest_power < loudest * power_from_db(softest_db); });
  if (!are_played(soundings)) return {};
  std::ranges::stable_sort(soundings, {}, &Sounding::start_s);
  return with_ranks_joined(soundings);
}

}  // namespace windway
