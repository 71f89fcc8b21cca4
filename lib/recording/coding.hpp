// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace windway {

/// How a file holds its samples.
struct Coding {
  std::string name;  ///< container and codec as their decoder calls them: "WAV (Microsoft), Signed 16 bit PCM"
  /// The codec leaves out or coarsens what it thinks is not heard; empty: unknown, or the codec may do so or not.
  std::optional<bool> lossy;
};

/// Of libsndfile's SF_INFO::format.
Coding sndfile_coding(int sndfile_format);

/// Of a container and of a codec by ffmpeg's name, such as "aac (LC)".
Coding ffmpeg_coding(std::string_view container, std::string_view codec);

}  // namespace windway
