// SPDX-License-Identifier: GPL-3.0-or-later
// What ffmpeg 5.1 of Debian 12 said of real files, shortened.
#include "input/ffmpeg_words.hpp"

#include <gtest/gtest.h>

namespace windway {
namespace {

using Errors = std::vector<std::string>;

constexpr auto of_m4a = R"([info] Input #0, mov,mp4,m4a,3gp,3g2,mj2, from 'file:/dev/stdin':
[info]   Metadata:
[info]     major_brand     : M4A 
[info]     creation_time   : 2024-05-01T12:30:45.000000Z
[info]   Duration: 01:00:35.95, start: 0.000000, bitrate: 71 kb/s
[info]   Stream #0:0[0x1](und): Audio: aac (LC) (mp4a / 0x6134706D), 24000 Hz, mono, fltp, 70 kb/s (default)
[info]     Metadata:
[info]       creation_time   : 2023-01-01T00:00:00.000000Z
[info] Stream mapping:
[info]   Stream #0:0 -> #0:0 (aac (native) -> pcm_f32be (native))
[info] Output #0, au, to 'pipe:1':
[info]   Stream #0:0(und): Audio: pcm_f32be ([6][0][0][0] / 0x0006), 24000 Hz, mono, flt, 768 kb/s (default)
)";

TEST(FfmpegWords, SayWhatAFileIs) {
  const FfmpegWords words = ffmpeg_words(of_m4a);
  EXPECT_EQ(words.format, "mov,mp4,m4a,3gp,3g2,mj2");
  EXPECT_EQ(words.codec, "aac (LC)");
  ASSERT_TRUE(words.duration_s);
  EXPECT_DOUBLE_EQ(*words.duration_s, 3635.95);
  EXPECT_EQ(words.recorded_at, "2024-05-01T12:30:45Z");  // the file's, not the track's
  EXPECT_EQ(words.tracks, 1);
  EXPECT_EQ(words.sound_tracks, 1);
  EXPECT_EQ(words.errors, Errors{});
}

TEST(FfmpegWords, SayWhatWentWrongOnceEach) {
  const FfmpegWords words =
      ffmpeg_words(std::string(of_m4a) +
                   R"([mov,mp4,m4a,3gp,3g2,mj2 @ 0x55a698942580] [warning] Packet corrupt (stream = 0).
[aac @ 0x55a69895ff40] [error] Input buffer exhausted before END element found
[aac @ 0x55a69895ff40] [error] Input buffer exhausted before END element found
[error] file:/dev/stdin: Invalid data found when processing input
[fatal] Stream map '0:a:0' matches no streams.
To ignore this, add a trailing '?' to the map.
)");
  EXPECT_EQ(words.errors,
            (Errors{"Input buffer exhausted before END element found", "Invalid data found when processing input",
                    "Stream map '0:a:0' matches no streams."}));
  EXPECT_TRUE(words.duration_s);
}

TEST(FfmpegWords, GiveNoLengthThatIsAGuessOrOfSeveralTracks) {
  EXPECT_EQ(ffmpeg_words(std::string("[aac @ 0x5601ae602580] [warning] Estimating duration from bitrate, this may be "
                                     "inaccurate\n") +
                         of_m4a)
                .duration_s,
            std::nullopt);
  const FfmpegWords words = ffmpeg_words(R"([info]   Duration: 00:00:02.00, start: 0.000000, bitrate: 50 kb/s
[info]   Stream #0:0[0x1](und): Video: h264 (High) (avc1 / 0x31637661), yuv420p(progressive), 320x240, 25 fps
[info]   Stream #0:1[0x2](und): Audio: opus, 48000 Hz, mono, fltp
)");
  EXPECT_EQ(words.tracks, 2);
  EXPECT_EQ(words.sound_tracks, 1);
  EXPECT_EQ(words.codec, "opus");
  EXPECT_EQ(words.duration_s, std::nullopt);
  EXPECT_EQ(ffmpeg_words("[info]   Duration: N/A, bitrate: N/A\n[info]   Stream #0:0: Audio: opus\n").duration_s,
            std::nullopt);
}

TEST(FfmpegWords, OfASilentVideoNameNoSound) {
  const FfmpegWords words = ffmpeg_words("[info]   Stream #0:0[0x1](und): Video: h264 (High), yuv420p\n");
  EXPECT_EQ(words.tracks, 1);
  EXPECT_EQ(words.sound_tracks, 0);
  EXPECT_EQ(words.codec, "");
}

TEST(FfmpegWords, MayBeAnything) {
  for (const char* said : {"", "\n", "[", "]", "[]", "[info]", "[ @ 0x", "[a @ 0x1]", "[a @ 0x1] [",
                           "[info] Duration: ", "[info] Duration: aa:bb:cc, ", "[info] creation_time",
                           "[info] creation_time:", "[info] Stream #0:0: Audio: ", "[info] Input #0, "})
    EXPECT_EQ(ffmpeg_words(said).errors, Errors{}) << said;
  EXPECT_EQ(ffmpeg_words("[error] \x1b[31m caf\xe9\x07").errors, Errors{"?[31m caf??"});
}

}  // namespace
}  // namespace windway
