// SPDX-License-Identifier: GPL-3.0-or-later
#include "drone/write_drone.hpp"

#include <sndfile.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cerrno>
#include <memory>
#include <string_view>
#include <system_error>

#include "error.hpp"

namespace windway {
namespace {

using File = std::unique_ptr<SNDFILE, int (*)(SNDFILE*)>;

constexpr auto written_by = "windway drone";  // libsndfile adds its own name

/// Capital letters or small.
bool ends_in(const std::string& name, const std::string& ending) {
  if (name.size() < ending.size()) return false;
  return std::equal(ending.begin(), ending.end(), name.end() - static_cast<long>(ending.size()),
                    [](char a, char b) { return a == std::tolower(static_cast<unsigned char>(b)); });
}

/// What the system said since errno was 0, else what libsndfile says: where FLAC finds no room for its first bytes,
/// that is something about a decoder.
std::string reason_of_failure(SNDFILE* file) {
  return errno != 0 ? std::generic_category().message(errno) : sf_strerror(file);
}

[[noreturn]] void fail(const std::string& name, const std::string& why) {
  throw Error(ErrorKind::output, "cannot write " + name + ": " + why);
}

}  // namespace

bool is_drone_file(const std::string& path) {
  SF_INFO info{};
  const File file(sf_open(path.c_str(), SFM_READ, &info), sf_close);
  const char* software = file ? sf_get_string(file.get(), SF_STR_SOFTWARE) : nullptr;
  return software != nullptr && std::string_view(software).starts_with(written_by);
}

bool is_drone_name(const std::string& path) { return ends_in(path, ".wav") || ends_in(path, ".flac"); }

void write_drone(const DroneSettings& settings, int descriptor, const std::string& name) {
  SF_INFO info{};
  info.samplerate = static_cast<int>(settings.rate_hz);
  info.channels = 1;
  info.format = (ends_in(name, ".flac") ? SF_FORMAT_FLAC : SF_FORMAT_WAV) | SF_FORMAT_PCM_24;
  errno = 0;
  File file(sf_open_fd(descriptor, SFM_WRITE, &info, SF_FALSE), sf_close);
  if (!file) fail(name, reason_of_failure(nullptr));
  sf_set_string(file.get(), SF_STR_SOFTWARE, written_by);
  DroneSound sound(settings);
  std::array<double, 4096> block{};
  while (const std::size_t count = sound.read(block)) {
    errno = 0;
    if (sf_write_double(file.get(), block.data(), static_cast<sf_count_t>(count)) != static_cast<sf_count_t>(count)) {
      fail(name, reason_of_failure(file.get()));
    }
  }
  if (sf_close(file.release()) != 0) fail(name, "the disk may be full");
}

}  // namespace windway
