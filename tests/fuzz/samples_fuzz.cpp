// SPDX-License-Identifier: GPL-3.0-or-later
// Notes of a whistle, each with its pitch, loudness and bend from four bytes of the input, and the rest of the input as
// 16-bit samples laid over them: measured, with the head's limits said, and every figure looked at.
#include <array>
#include <cmath>
#include <cstring>
#include <numbers>
#include <vector>

#include "analysis.hpp"
#include "fuzz_input.hpp"
#include "sound_measurement.hpp"

namespace windway::fuzz {
namespace {

constexpr std::uint32_t rate_hz = 16000;
constexpr std::size_t note_samples = rate_hz * 9 / 20, pitch_samples = note_samples * 4 / 5;
constexpr std::size_t most_notes = 8, note_bytes = 4, most_bytes = std::size_t{32} * 1024;

/// Bytes: semitone and gap, loudness, detuning, bend.
void add_note(std::vector<double>& take, const std::uint8_t* note) {
  const double loudness = std::exp2(-note[1] / 32.0);
  const double semitones = note[0] % 32 + (note[2] - 128) / 256.0;
  const std::size_t sounding = note[0] < 224 ? pitch_samples : note_samples;
  double phase = 0;
  for (std::size_t sample = 0; sample < note_samples; ++sample) {
    const double way = static_cast<double>(sample) / note_samples;
    const double hz = 587.33 * std::exp2((semitones + (note[3] - 128) / 256.0 * way) / 12);
    phase += 2 * std::numbers::pi * hz / rate_hz;
    const double edge = std::min({1.0, 40 * way, 40 * std::abs(static_cast<double>(sounding) / note_samples - way)});
    take.push_back(sample < sounding ? edge * loudness * (std::sin(phase) + 0.2 * std::sin(2 * phase)) / 1.3 : 0.0);
  }
}

/// The input's own samples, over and over.
void add_samples(std::vector<double>& take, const std::uint8_t* bytes, std::size_t count) {
  const std::size_t samples = count / sizeof(std::int16_t);
  for (std::size_t at = 0; samples > 0 && at < take.size(); ++at) {
    std::int16_t sample = 0;
    std::memcpy(&sample, bytes + at % samples * sizeof sample, sizeof sample);
    take[at] += sample / 32768.0;
  }
}

std::string wav_of(const std::vector<double>& take) {
  std::string wav = "RIFF";
  const auto add = [&](auto number) { wav.append(reinterpret_cast<const char*>(&number), sizeof number); };
  const auto sound_bytes = static_cast<std::uint32_t>(take.size() * sizeof(std::int16_t));
  add(sound_bytes + 36), wav += "WAVEfmt ", add(std::uint32_t{16}), add(std::uint16_t{1}), add(std::uint16_t{1});
  add(rate_hz), add(rate_hz * 2), add(std::uint16_t{2}), add(std::uint16_t{16}), wav += "data", add(sound_bytes);
  for (const double sample : take) add(static_cast<std::int16_t>(std::clamp(sample, -1.0, 1.0) * 32767));
  return wav;
}

/// Bytes: where the head is and how far it goes, tenths of mm; what is said of the instrument.
MeasureSettings settings_of(const std::uint8_t* said) {
  MeasureSettings settings;
  settings.head.moves = (said[2] & 1U) == 0;
  if ((said[2] & 2U) != 0) settings.head.travel_mm = std::max(0.1, said[1] / 10.0);
  if ((said[2] & 4U) != 0) settings.head.out_mm = std::min(said[0] / 10.0, settings.head.travel_mm.value_or(25.5));
  if ((said[2] & 8U) != 0) settings.instrument.instrument = builtin_instrument(Kind::whistle, 74);
  if ((said[2] & 16U) != 0) settings.quote_at_c = 30;
  return settings;
}

}  // namespace
}  // namespace windway::fuzz

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t count) {
  using namespace windway;
  constexpr std::size_t said_bytes = 4;
  if (count < said_bytes + fuzz::note_bytes || count > fuzz::most_bytes) return 0;
  const std::size_t notes =
      std::min<std::size_t>(bytes[3] % fuzz::most_notes + 1, (count - said_bytes) / fuzz::note_bytes);
  std::vector<double> take;
  for (std::size_t note = 0; note < notes; ++note) fuzz::add_note(take, bytes + said_bytes + note * fuzz::note_bytes);
  const std::size_t used = said_bytes + notes * fuzz::note_bytes;
  fuzz::add_samples(take, bytes + used, count - used);
  const std::string wav = fuzz::wav_of(take);
  const fuzz::MemoryFile file(wav.data(), wav.size());
  fuzz::unless_refused([&] { fuzz::require_sound(measure({file.path()}, fuzz::settings_of(bytes))); });
  return 0;
}
