// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/compressed_file.hpp"

#include <sndfile.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <stdexcept>

namespace windway::synthesis {
namespace {

/// libsndfile's "compression level", 0 to 1, runs evenly from the highest bit rate to the lowest (libsndfile 1.2,
/// src/ogg_opus.c and src/mpeg_l3_encode.c, from memory).
double compression_level(bool opus, double rate_hz, double kbit_s) {
  const double most = opus ? 256.0 : rate_hz >= 32000.0 ? 320.0 : rate_hz >= 16000.0 ? 160.0 : 64.0;
  const double least = opus ? 6.0 : rate_hz >= 32000.0 ? 32.0 : 8.0;
  return std::clamp((most - kbit_s) / (most - least), 0.0, 1.0);
}

}  // namespace

void write_compressed(const std::string& path, const std::vector<float>& samples, double rate_hz, double kbit_s) {
  const bool opus = path.ends_with(".opus");
  SF_INFO info{};
  info.samplerate = static_cast<int>(rate_hz);
  info.channels = 1;
  info.format = opus ? SF_FORMAT_OGG | SF_FORMAT_OPUS : SF_FORMAT_MPEG | SF_FORMAT_MPEG_LAYER_III;
  const std::unique_ptr<SNDFILE, int (*)(SNDFILE*)> file(sf_open(path.c_str(), SFM_WRITE, &info), sf_close);
  if (!file) throw std::runtime_error("cannot write " + path + ": " + sf_strerror(nullptr));
  int constant = SF_BITRATE_MODE_CONSTANT;
  sf_command(file.get(), SFC_SET_BITRATE_MODE, &constant, sizeof constant);  // Opus may decline: it is so already
  double level = compression_level(opus, rate_hz, kbit_s);
  if (sf_command(file.get(), SFC_SET_COMPRESSION_LEVEL, &level, sizeof level) != SF_TRUE) {
    throw std::runtime_error("cannot set the bit rate of " + path);
  }
  const auto frames = static_cast<sf_count_t>(samples.size());
  if (sf_writef_float(file.get(), samples.data(), frames) != frames) {
    throw std::runtime_error("cannot write " + path + " to its end: is the disk full?");
  }
}

double delay_in_file_s(const std::string& path, const std::vector<float>& samples) {
  SF_INFO info{};
  const std::unique_ptr<SNDFILE, int (*)(SNDFILE*)> file(sf_open(path.c_str(), SFM_READ, &info), sf_close);
  if (!file) throw std::runtime_error("cannot read " + path + ": " + sf_strerror(nullptr));
  const auto most = static_cast<std::size_t>(0.2 * info.samplerate), length = static_cast<std::size_t>(info.samplerate);
  std::vector<float> heard(length + most);
  sf_readf_float(file.get(), heard.data(), static_cast<sf_count_t>(heard.size()));
  std::size_t best = 0;
  double best_sum = 0.0;
  for (std::size_t lag = 0; lag < most; ++lag) {
    double sum = 0.0, power = 1e-12;
    for (std::size_t i = 0; i < std::min(length, samples.size()); ++i) {
      sum += samples[i] * heard[i + lag];
      power += heard[i + lag] * heard[i + lag];
    }
    if (sum / std::sqrt(power) <= best_sum) continue;  // or the louder part would win
    best_sum = sum / std::sqrt(power);
    best = lag;
  }
  return static_cast<double>(best) / info.samplerate;
}

}  // namespace windway::synthesis
