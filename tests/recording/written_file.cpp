// SPDX-License-Identifier: GPL-3.0-or-later
#include "written_file.hpp"

#include <sndfile.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <iterator>
#include <numbers>
#include <random>
#include <stdexcept>

namespace windway::test {

TemporaryFolder::TemporaryFolder() {
  std::string name = (std::filesystem::temp_directory_path() / "windway-test-XXXXXX").string();
  if (mkdtemp(name.data()) == nullptr) throw std::runtime_error("no temporary folder");
  path_ = name;
}

TemporaryFolder::~TemporaryFolder() {
  std::error_code ignored;
  std::filesystem::remove_all(path_, ignored);
}

void write_file(const std::string& path, const std::vector<float>& interleaved, const FileFormat& format) {
  SF_INFO info{};
  info.samplerate = format.rate_hz;
  info.channels = format.channels;
  info.format = format.sndfile_format;
  SNDFILE* file = sf_open(path.c_str(), SFM_WRITE, &info);
  if (file == nullptr) throw std::runtime_error(sf_strerror(nullptr));
  if (!format.date.empty()) sf_set_string(file, SF_STR_DATE, format.date.c_str());
  if (!format.origin_date.empty()) {
    SF_BROADCAST_INFO broadcast{};
    std::copy_n(format.origin_date.begin(), std::min<std::size_t>(10, format.origin_date.size()),
                broadcast.origination_date);
    std::copy_n(format.origin_time.begin(), std::min<std::size_t>(8, format.origin_time.size()),
                broadcast.origination_time);
    sf_command(file, SFC_SET_BROADCAST_INFO, &broadcast, sizeof broadcast);
  }
  const auto count = static_cast<sf_count_t>(interleaved.size());
  const sf_count_t written = sf_write_float(file, interleaved.data(), count);
  sf_close(file);
  if (written != count) throw std::runtime_error("not all samples were written");
}

void write_bytes(const std::string& path, std::string_view bytes) {
  std::ofstream file(path, std::ios::binary);
  file.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
}

std::string bytes_of(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

std::vector<float> sine(double hz, double amplitude, double rate_hz, double duration_s, double phase_rad) {
  std::vector<float> samples(static_cast<std::size_t>(duration_s * rate_hz));
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const double angle_rad = 2 * std::numbers::pi * hz * static_cast<double>(i) / rate_hz + phase_rad;
    samples[i] = static_cast<float>(amplitude * std::sin(angle_rad));
  }
  return samples;
}

std::vector<float> noise(double amplitude, std::size_t samples, unsigned seed) {
  std::mt19937 random(seed);
  std::vector<float> out(samples);
  // By hand: the standard's distributions differ from library to library.
  for (float& sample : out)
    sample = static_cast<float>(amplitude * (static_cast<double>(random()) / 2147483647.5 - 1.0));
  return out;
}

std::vector<float> interleave(const std::vector<std::vector<float>>& channels) {
  std::vector<float> out;
  for (std::size_t i = 0; i < channels.at(0).size(); ++i) {
    for (const auto& channel : channels) out.push_back(channel.at(i));
  }
  return out;
}

}  // namespace windway::test
