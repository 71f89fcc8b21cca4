// SPDX-License-Identifier: GPL-3.0-or-later
#include "recording/telephone.hpp"

#include <algorithm>
#include <array>

namespace windway {
namespace {

using std::string_view_literals::operator""sv;

using Bytes = std::span<const unsigned char>;

struct Signature {
  std::size_t offset;
  std::string_view bytes;
  Container container;
};

constexpr Container mpeg4{"MPEG-4 or QuickTime (.m4a, .mp4, .mov, .3gp)", "mov,mp4,m4a,3gp,3g2,mj2"};
constexpr Container raw_aac{"raw AAC (.aac)", "aac"};

constexpr std::array never_read{
    Signature{4, "ftyp"sv, mpeg4},
    Signature{4, "moov"sv, mpeg4},  // QuickTime files older than ftyp
    Signature{4, "mdat"sv, mpeg4},
    Signature{4, "wide"sv, mpeg4},
    Signature{4, "free"sv, mpeg4},
    Signature{4, "skip"sv, mpeg4},
    Signature{0, "\x1a\x45\xdf\xa3"sv, {"WebM or Matroska (.webm, .mkv)", "matroska,webm"}},
    Signature{0, "#!AMR"sv, {"AMR speech (.amr)", "amr"}},
    Signature{0, "\x30\x26\xb2\x75\x8e\x66\xcf\x11"sv, {"Windows Media (.wma, .asf)", "asf"}},
    Signature{0, "ADIF"sv, raw_aac},
    Signature{8, "AVI "sv, {"AVI video", "avi"}},
    Signature{0, "FLV\x01"sv, {"Flash video (.flv)", "flv,live_flv"}},
    Signature{0, "wvpk"sv, {"WavPack (.wv)", "wv"}},
    Signature{0, "MAC "sv, {"Monkey's Audio (.ape)", "ape"}},
};

constexpr std::array read_in_part{
    Signature{0, "caff"sv, {"Core Audio (.caf) with a codec that libsndfile does not know", "caf"}},
    Signature{0, "OggS"sv, {"Ogg with a codec that libsndfile does not know", "ogg"}},
    Signature{8, "WAVE"sv, {"WAV, damaged or with a codec that libsndfile does not know", "wav,w64"}},
    Signature{8, "AIFC"sv, {"AIFF-C, damaged or with a codec that libsndfile does not know", "aiff"}},
};

bool stands_at(Bytes head, std::size_t offset, std::string_view bytes) {
  if (head.size() < offset + bytes.size()) return false;
  return std::equal(bytes.begin(), bytes.end(), head.begin() + static_cast<std::ptrdiff_t>(offset),
                    [](char a, unsigned char b) { return static_cast<unsigned char>(a) == b; });
}

template <std::size_t n>
std::optional<Container> first_match(const std::array<Signature, n>& signatures, Bytes head) {
  for (const Signature& signature : signatures) {
    if (stands_at(head, signature.offset, signature.bytes)) return signature.container;
  }
  return std::nullopt;
}

/// Frames of MPEG audio and of ADTS both begin with twelve set bits; ADTS has zeros in the layer bits of MPEG audio.
bool begins_adts_frame(Bytes head) { return head.size() >= 2 && head[0] == 0xff && (head[1] & 0xf6U) == 0xf0; }

/// An ID3v2 tag may precede AAC and MP3 frames: ten bytes, the last four its length, 7 bits each.
Bytes after_id3_tag(Bytes head) {
  if (head.size() < 10 || !stands_at(head, 0, "ID3"sv)) return head;
  std::size_t length = 0;
  for (std::size_t i = 6; i < 10; ++i) length = (length << 7U) | (head[i] & 0x7fU);
  return head.subspan(std::min(head.size(), length + 10));
}

std::string_view file_name_of(std::string_view path) {
  const std::size_t slash = path.rfind('/');
  return slash == std::string_view::npos ? path : path.substr(slash + 1);
}

}  // namespace

std::optional<Container> container_of(std::span<const unsigned char> head) {
  if (begins_adts_frame(after_id3_tag(head))) return raw_aac;
  return first_match(never_read, head);
}

std::optional<Container> partly_read_container_of(std::span<const unsigned char> head) {
  return first_match(read_in_part, head);
}

std::string shell_quoted(std::string_view text) {
  std::string quoted = "'";
  for (const char c : text) {
    if (c == '\'') {
      quoted += R"('\'')";  // closes the quotes, adds a quoted quote, opens them again
    } else {
      quoted += c;
    }
  }
  return quoted + "'";
}

std::string conversion_command(std::string_view path) {
  // "take 1:2.m4a" would be read as a protocol; "./take 1:2.m4a" is a file.
  const bool looks_like_protocol = path.find(':') < path.find('/');
  const std::string input = (looks_like_protocol ? "./" : "") + std::string(path);
  const std::string_view output = file_name_of(path) == "take.flac" ? "take2.flac" : "take.flac";
  return "ffmpeg -i " + shell_quoted(input) + " " + std::string(output);
}

}  // namespace windway
