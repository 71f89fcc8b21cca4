// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/sound_file.hpp"

#include <sndfile.h>

#include <memory>
#include <stdexcept>

#include "support/random.hpp"

namespace windway::synthesis {
namespace {

int format_of(const std::string& path, int bits) {
  const int coding = bits == 32 ? SF_FORMAT_FLOAT : bits == 24 ? SF_FORMAT_PCM_24 : SF_FORMAT_PCM_16;
  return (path.ends_with(".flac") ? SF_FORMAT_FLAC : SF_FORMAT_WAV) | coding;
}

}  // namespace

void write_sound(const std::string& path, const std::vector<float>& samples, double rate_hz, int channels, int bits) {
  SF_INFO info{};
  info.samplerate = static_cast<int>(rate_hz);
  info.channels = channels;
  info.format = format_of(path, bits);
  const std::unique_ptr<SNDFILE, int (*)(SNDFILE*)> file(sf_open(path.c_str(), SFM_WRITE, &info), sf_close);
  if (!file) throw std::runtime_error("cannot write " + path + ": " + sf_strerror(nullptr));
  double most = 1.0;  // FLAC only: smallest files
  sf_command(file.get(), SFC_SET_COMPRESSION_LEVEL, &most, sizeof most);
  sf_command(file.get(), SFC_SET_CLIPPING, nullptr, SF_TRUE);
  const auto frames = static_cast<sf_count_t>(samples.size()) / channels;
  if (sf_writef_float(file.get(), samples.data(), frames) != frames) {
    throw std::runtime_error("cannot write " + path + " to its end: is the disk full?");
  }
}

std::vector<float> beside_a_dead_channel(const std::vector<float>& samples) {
  constexpr double trace = 1e-5;  // under one step of 16 bits
  Random random(1);
  std::vector<float> out;
  out.reserve(2 * samples.size());
  for (const float x : samples) {
    out.push_back(static_cast<float>(random.normal(0.0, trace)));
    out.push_back(x);
  }
  return out;
}

}  // namespace windway::synthesis
