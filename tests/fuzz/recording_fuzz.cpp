// SPDX-License-Identifier: GPL-3.0-or-later
// The bytes of a sound file: decoded by libsndfile, measured, reported. Where libsndfile does not read it, no ffmpeg is
// found either.
#include <vector>

#include "analysis.hpp"
#include "fuzz_input.hpp"
#include "input/input_file.hpp"
#include "recording/sound_file.hpp"
#include "sound_measurement.hpp"

namespace windway::fuzz {
namespace {

constexpr std::size_t most_bytes = std::size_t{64} * 1024;
constexpr double longest_s = 4;  // so few bytes can say hours of silence, which take their time

bool is_short(const std::string& path) {
  const InputFile input(path);
  SoundFile sound(input, path);
  std::vector<float> block(std::size_t{4096} * static_cast<std::size_t>(sound.channels()));
  const double most_frames = longest_s * sound.rate_hz();
  std::size_t frames = 0;
  while (const std::size_t got = sound.read_frames(block))
    if (static_cast<double>(frames += got) * sound.channels() > most_frames) return false;
  return true;
}

}  // namespace
}  // namespace windway::fuzz

extern "C" int LLVMFuzzerInitialize(int*, char***) { return setenv("PATH", "/nonexistent", 1); }

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t count) {
  using namespace windway;
  if (count > fuzz::most_bytes) return 0;
  const fuzz::MemoryFile file(bytes, count);
  fuzz::unless_refused([&] {
    if (fuzz::is_short(file.path())) fuzz::require_sound(measure({file.path()}, {}));
  });
  return 0;
}
