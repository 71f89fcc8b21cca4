// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace windway::test {

/// A folder that goes with everything in it at the end of a test.
class TemporaryFolder {
 public:
  TemporaryFolder();
  ~TemporaryFolder();
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;

  std::string path_of(std::string_view name) const { return (path_ / name).string(); }

 private:
  std::filesystem::path path_;
};

/// What a test's file holds beside its samples.
struct FileFormat {
  int sndfile_format = 0;  ///< SF_FORMAT_...
  int rate_hz = 48000;
  int channels = 1;
  std::string date;         ///< SF_STR_DATE; none where empty
  std::string origin_date;  ///< of a bext chunk, "2024-05-01"; none where empty
  std::string origin_time;  ///< "12:30:45"
};

void write_file(const std::string& path, const std::vector<float>& interleaved, const FileFormat& format);
void write_bytes(const std::string& path, std::string_view bytes);
std::string bytes_of(const std::string& path);

std::vector<float> sine(double hz, double amplitude, double rate_hz, double duration_s, double phase_rad = 0.0);
/// White noise, evenly spread up to `amplitude`; the same for the same seed.
std::vector<float> noise(double amplitude, std::size_t samples, unsigned seed);
std::vector<float> interleave(const std::vector<std::vector<float>>& channels);

}  // namespace windway::test
