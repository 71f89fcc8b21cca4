// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace windway {

/// What the ffmpeg program says of a file and of its decoding, run with -loglevel level+info.
struct FfmpegWords {
  std::string format;                      ///< its name of the container: "mov,mp4,m4a,3gp,3g2,mj2"
  std::string codec;                       ///< of the first sound track, "aac (LC)"; empty: none was named
  std::optional<double> duration_s;        ///< from the header; empty where it is a guess, or other tracks share it
  std::optional<std::string> recorded_at;  ///< ISO 8601
  int tracks = 0;                          ///< of every kind
  int sound_tracks = 0;
  std::vector<std::string> errors;  ///< each once, in order, ASCII
};

FfmpegWords ffmpeg_words(std::string_view said);

}  // namespace windway
