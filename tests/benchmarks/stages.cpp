// SPDX-License-Identifier: GPL-3.0-or-later
// Where the time of `windway measure` goes: each stage by itself on one invented take of a minute, 48 kHz, 16 bit.
#include <benchmark/benchmark.h>
#include <sndfile.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <numbers>
#include <string>
#include <vector>

#include "analysis.hpp"
#include "input/digest.hpp"
#include "input/input_file.hpp"
#include "pitch/spectrum.hpp"
#include "pitch/tone.hpp"
#include "recording/decimate.hpp"
#include "scale/range.hpp"
#include "support/find_holds.hpp"
#include "support/noise.hpp"

namespace windway {
namespace {

constexpr int rate_hz = 48000;
constexpr double lowest_hz = 587.33;  // D5

/// A scale, each note soft, moderate and hard, harder ones sharper; then all of it again until the minute is over.
std::vector<float> invented_samples() {
  constexpr double note_s = 1.0;
  constexpr double sounds_s = 0.8;
  constexpr double scale_semitones[] = {0, 2, 4, 5, 7, 9, 11, 12};
  synthesis::Random random(1);
  const auto noise = synthesis::white_noise(static_cast<std::size_t>(60) * rate_hz, 0.001, random);
  std::vector<float> samples(noise.begin(), noise.end());
  double turns = 0;
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const double time_s = static_cast<double>(i) / rate_hz;
    const auto note = static_cast<std::size_t>(time_s / note_s);
    const double within_s = time_s - static_cast<double>(note) * note_s;
    const double blow = static_cast<double>(note % 3) - 1.0;
    const double semitones = scale_semitones[note / 3 % std::size(scale_semitones)];
    turns += lowest_hz * std::exp2((semitones + 0.12 * blow) / 12.0) / rate_hz;
    const double fades = std::clamp(std::min(within_s, sounds_s - within_s) / 0.03, 0.0, 1.0);
    const double amplitude = 0.1 * std::exp2(blow) * fades;
    const double angle_rad = 2.0 * std::numbers::pi * turns;
    samples[i] += static_cast<float>(amplitude * (std::sin(angle_rad) + 0.2 * std::sin(2.0 * angle_rad)));
  }
  return samples;
}

/// The take as a file, there while the program runs.
class InventedTake {
 public:
  InventedTake() : path_(std::filesystem::temp_directory_path() / "windway-stages.wav") {
    SF_INFO format{0, rate_hz, 1, SF_FORMAT_WAV | SF_FORMAT_PCM_16, 0, 0};
    SNDFILE* file = sf_open(path_.c_str(), SFM_WRITE, &format);
    sf_writef_float(file, samples.data(), static_cast<sf_count_t>(samples.size()));
    sf_close(file);
  }
  ~InventedTake() { std::filesystem::remove(path_); }
  InventedTake(const InventedTake&) = delete;
  InventedTake& operator=(const InventedTake&) = delete;

  std::string path() const { return path_.string(); }

  std::vector<float> samples = invented_samples();

 private:
  std::filesystem::path path_;
};

const InventedTake& take() {
  static const InventedTake invented;
  return invented;
}

std::vector<float> working_samples() {
  std::vector<float> out;
  Decimator decimator(decimation_factor(rate_hz));
  decimator.process(take().samples, out);
  return out;
}

const double working_rate_hz = static_cast<double>(rate_hz) / decimation_factor(rate_hz);
const PitchRules rules;

/// Calls `each` with every window's samples of the take.
template <typename Each>
void for_each_window(const std::vector<float>& samples, std::size_t length, const Each& each) {
  const auto hop = static_cast<std::size_t>(rules.hop_s * working_rate_hz);
  for (std::size_t at = 0; at + length <= samples.size(); at += hop) each(std::span(samples).subspan(at, length));
}

std::size_t window_samples() { return fast_length_samples(static_cast<std::size_t>(rules.window_s * working_rate_hz)); }

void reading_by_libsndfile_alone(benchmark::State& state) {
  std::vector<float> block(8192);
  const std::string path = take().path();
  for (auto _ : state) {
    SF_INFO format{};
    SNDFILE* file = sf_open(path.c_str(), SFM_READ, &format);
    while (sf_readf_float(file, block.data(), static_cast<sf_count_t>(block.size())) > 0) {
      benchmark::DoNotOptimize(block.data());
    }
    sf_close(file);
  }
}
BENCHMARK(reading_by_libsndfile_alone)->Unit(benchmark::kMillisecond);

void digest(benchmark::State& state) {
  const InputFile input(take().path());
  for (auto _ : state) benchmark::DoNotOptimize(sha256_of_file(input.descriptor()));
}
BENCHMARK(digest)->Unit(benchmark::kMillisecond);

void reading_whole(benchmark::State& state) {
  std::vector<float> block(16384);
  for (auto _ : state) {
    Recording recording(take().path());
    while (recording.read(block) > 0) benchmark::DoNotOptimize(block.data());
  }
}
BENCHMARK(reading_whole)->Unit(benchmark::kMillisecond);

void decimating(benchmark::State& state) {
  for (auto _ : state) benchmark::DoNotOptimize(working_samples());
}
BENCHMARK(decimating)->Unit(benchmark::kMillisecond);

void spectra(benchmark::State& state) {
  const std::vector<float> samples = working_samples();
  Spectrum spectrum(window_samples());
  SpectrumFrame frame;
  for (auto _ : state) {
    for_each_window(samples, spectrum.length_samples(), [&](auto window) {
      spectrum.transform(window, frame);
      benchmark::DoNotOptimize(frame.power.data());
    });
  }
}
BENCHMARK(spectra)->Unit(benchmark::kMillisecond);

/// With the spectra: take their time off.
void spectra_and_tones(benchmark::State& state) {
  const std::vector<float> samples = working_samples();
  for (auto _ : state) benchmark::DoNotOptimize(track_pitch(samples, working_rate_hz, rules));
}
BENCHMARK(spectra_and_tones)->Unit(benchmark::kMillisecond);

std::vector<Hold> holds_of_take() { return find_holds(track_pitch(working_samples(), working_rate_hz, rules), {}); }

void holds(benchmark::State& state) {
  const PitchTrack track = track_pitch(working_samples(), working_rate_hz, rules);
  for (auto _ : state) benchmark::DoNotOptimize(find_holds(track, {}));
}
BENCHMARK(holds)->Unit(benchmark::kMillisecond);

void naming(benchmark::State& state) {
  const std::vector<Hold> found = holds_of_take();
  for (auto _ : state) benchmark::DoNotOptimize(name_holds(found, {}, {440.0}));
}
BENCHMARK(naming)->Unit(benchmark::kMillisecond);

void breath(benchmark::State& state) {
  const Naming named = name_holds(holds_of_take(), {}, {440.0});
  for (auto _ : state) benchmark::DoNotOptimize(measure_breath(named, {}));
}
BENCHMARK(breath)->Unit(benchmark::kMillisecond);

void slide(benchmark::State& state) {
  const BreathResult found = measure_breath(name_holds(holds_of_take(), {}, {440.0}), {});
  const double c_m_s = speed_of_sound_m_s({});
  for (auto _ : state) {
    benchmark::DoNotOptimize(find_compromise(found.notes, {}, 440.0, c_m_s, found.repeat_db));
  }
}
BENCHMARK(slide)->Unit(benchmark::kMillisecond);

void all_together(benchmark::State& state) {
  for (auto _ : state) benchmark::DoNotOptimize(measure({take().path()}, {}));
}
BENCHMARK(all_together)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace windway

BENCHMARK_MAIN();
