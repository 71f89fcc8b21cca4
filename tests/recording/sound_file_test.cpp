// SPDX-License-Identifier: GPL-3.0-or-later
#include "recording/sound_file.hpp"

#include <fcntl.h>
#include <gtest/gtest.h>
#include <sndfile.h>

#include "error.hpp"
#include "written_file.hpp"

namespace windway {
namespace {

std::vector<float> as_libsndfile_reads(const std::string& path, std::size_t samples) {
  SF_INFO format{};
  SNDFILE* const file = sf_open(path.c_str(), SFM_READ, &format);
  std::vector<float> interleaved(samples);
  EXPECT_EQ(sf_read_float(file, interleaved.data(), static_cast<sf_count_t>(samples)),
            static_cast<sf_count_t>(samples));
  sf_close(file);
  return interleaved;
}

class SixteenBits : public testing::TestWithParam<int> {};
INSTANTIATE_TEST_SUITE_P(SoundFile, SixteenBits,
                         testing::Values(SF_FORMAT_WAV, SF_FORMAT_AIFF, SF_FORMAT_CAF, SF_FORMAT_FLAC));

TEST_P(SixteenBits, AreTheFloatsOfTheLibrary) {
  const test::TemporaryFolder folder;
  const std::string path = folder.path_of("take");
  constexpr std::size_t samples = 20000;  // of both channels
  test::write_file(path, test::noise(1.0, samples, 3), {GetParam() | SF_FORMAT_PCM_16, 48000, 2, "", "", ""});
  const InputFile input(path);
  SoundFile file(input, path);
  std::vector<float> all, block(3000);
  for (std::size_t frames = 1; frames > 0;) {
    frames = file.read_frames(block);
    all.insert(all.end(), block.begin(), block.begin() + static_cast<long>(2 * frames));
  }
  EXPECT_EQ(all, as_libsndfile_reads(path, samples));
}

// libsndfile 1.2 closes the descriptor of what it does not know: by then the number may be another take's.
TEST(SoundFile, LeavesTheDescriptorOfAFileThatItRefusesOpen) {
  const test::TemporaryFolder folder;
  test::write_bytes(folder.path_of("text.wav"), "D E F#");
  const InputFile input(folder.path_of("text.wav"));
  EXPECT_THROW(SoundFile(input, "text.wav"), Error);
  EXPECT_NE(fcntl(input.descriptor(), F_GETFD), -1);
}

}  // namespace
}  // namespace windway
