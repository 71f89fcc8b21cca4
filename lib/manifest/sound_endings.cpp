// SPDX-License-Identifier: GPL-3.0-or-later
#include "manifest/sound_endings.hpp"

#include <sndfile.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <set>
#include <string>

namespace windway {
namespace {

/// Other endings of the formats that libsndfile reads.
constexpr std::array further_endings{"aif", "aifc", "bwf", "mp1", "mp2",  "mp3", "nist",
                                     "ogg", "opus", "snd", "sph", "8svx", "svx", "wave"};
/// Endings of the containers in telephone.hpp, and of other sound that ffmpeg reads.
constexpr std::array ffmpeg_endings{"3g2", "3ga", "3gp", "3gpp", "aac",  "ac3",  "amr", "ape", "asf", "avi",
                                    "dsf", "flv", "m4a", "m4b",  "m4r",  "m4v",  "mka", "mkv", "mov", "mp4",
                                    "mpc", "spx", "tak", "tta",  "weba", "webm", "wma", "wmv", "wv"};
/// Raw samples without a rate, and tables of any numbers: often not sound.
constexpr std::array not_surely_sound{"raw", "mat"};

std::set<std::string> all_endings() {
  std::set<std::string> endings(further_endings.begin(), further_endings.end());
  endings.insert(ffmpeg_endings.begin(), ffmpeg_endings.end());
  int formats = 0;
  sf_command(nullptr, SFC_GET_FORMAT_MAJOR_COUNT, &formats, sizeof(formats));
  for (int number = 0; number < formats; ++number) {
    SF_FORMAT_INFO format{};
    format.format = number;
    if (sf_command(nullptr, SFC_GET_FORMAT_MAJOR, &format, sizeof(format)) == 0) endings.insert(format.extension);
  }
  for (const char* ending : not_surely_sound) endings.erase(ending);
  return endings;
}

}  // namespace

bool has_sound_ending(std::string_view name) {
  static const std::set<std::string> endings = all_endings();
  const std::size_t dot = name.rfind('.');
  if (dot == std::string_view::npos) return false;
  std::string ending(name.substr(dot + 1));
  std::ranges::transform(ending, ending.begin(),
                         [](unsigned char letter) { return static_cast<char>(std::tolower(letter)); });
  return endings.contains(ending);
}

}  // namespace windway
