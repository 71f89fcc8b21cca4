// SPDX-License-Identifier: GPL-3.0-or-later
#include "recording/coding.hpp"

#include <sndfile.h>

#include <algorithm>
#include <array>

namespace windway {
namespace {

using std::string_view_literals::operator""sv;

constexpr std::array lossless_sndfile_codings{
    SF_FORMAT_PCM_S8,  SF_FORMAT_PCM_U8,  SF_FORMAT_PCM_16,  SF_FORMAT_PCM_24,  SF_FORMAT_PCM_32,  SF_FORMAT_FLOAT,
    SF_FORMAT_DOUBLE,  SF_FORMAT_ALAC_16, SF_FORMAT_ALAC_20, SF_FORMAT_ALAC_24, SF_FORMAT_ALAC_32, SF_FORMAT_DWVW_12,
    SF_FORMAT_DWVW_16, SF_FORMAT_DWVW_24, SF_FORMAT_DPCM_8,  SF_FORMAT_DPCM_16};

/// Those that ffmpeg -codecs calls lossless only, and DSD; A-law and mu-law are not among them.
constexpr std::array lossless_ffmpeg_codecs{"alac"sv, "ape"sv,    "dsd_lsbf"sv, "dsd_msbf"sv,
                                            "flac"sv, "mlp"sv,    "mp4als"sv,   "shorten"sv,
                                            "tak"sv,  "truehd"sv, "tta"sv,      "wmalossless"sv};

bool is_linear_pcm(std::string_view codec) {
  return codec.starts_with("pcm_s") || codec.starts_with("pcm_u") || codec.starts_with("pcm_f");
}

std::string sndfile_name(int command_for_format) {
  SF_FORMAT_INFO format{};
  format.format = command_for_format;
  const bool known = sf_command(nullptr, SFC_GET_FORMAT_INFO, &format, sizeof(format)) == 0 && format.name != nullptr;
  return known ? format.name : "";
}

std::string joined(const std::string& container, const std::string& codec) {
  return container + (container.empty() || codec.empty() ? "" : ", ") + codec;
}

}  // namespace

Coding sndfile_coding(int sndfile_format) {
  const int container = sndfile_format & SF_FORMAT_TYPEMASK;
  const int coding = sndfile_format & SF_FORMAT_SUBMASK;
  const bool lossless = std::ranges::find(lossless_sndfile_codings, coding) != lossless_sndfile_codings.end();
  return {joined(sndfile_name(container), sndfile_name(coding)), !lossless};
}

Coding ffmpeg_coding(std::string_view container, std::string_view codec) {
  const std::string_view name = codec.substr(0, codec.find(' '));
  const bool lossless =
      is_linear_pcm(name) || std::ranges::find(lossless_ffmpeg_codecs, name) != lossless_ffmpeg_codecs.end();
  const bool may_be_either = name.empty() || name == "wavpack" || name == "dts";
  return {joined(std::string(container), std::string(codec)) + ", decoded by ffmpeg",
          may_be_either ? std::nullopt : std::optional(!lossless)};
}

}  // namespace windway
