// SPDX-License-Identifier: GPL-3.0-or-later
#include "input/decoder.hpp"

#include <algorithm>
#include <array>
#include <bit>
#include <cassert>
#include <cstdint>
#include <utility>

namespace windway {
namespace {

constexpr std::size_t sample_bytes = 4;
constexpr std::size_t header_bytes = 24;
constexpr std::size_t most_annotation_bytes = 65536;  // ffmpeg writes 8

/// Sun's audio format, big-endian: magic, where the samples begin, their length (unknown in a pipe), encoding, rate,
/// channels (POSIX systems' audio(4) manual, from memory).
constexpr std::uint32_t au_magic = 0x2e736e64;
constexpr std::uint32_t au_float = 6;

std::uint32_t big_endian_at(std::span<const unsigned char> bytes, std::size_t at) {
  return static_cast<std::uint32_t>(bytes[at]) << 24U | static_cast<std::uint32_t>(bytes[at + 1]) << 16U |
         static_cast<std::uint32_t>(bytes[at + 2]) << 8U | static_cast<std::uint32_t>(bytes[at + 3]);
}

std::vector<std::string> ffmpeg_call(std::string_view demuxers) {
  return {"ffmpeg",
          "-nostdin",
          "-hide_banner",
          "-nostats",
          "-loglevel",
          "level+info",
          "-threads",
          "1",
          "-format_whitelist",
          std::string(demuxers),
          "-protocol_whitelist",
          "file,pipe",
          "-i",
          "file:/dev/stdin",
          "-map",
          "0:a:0",
          "-c:a",
          "pcm_f32be",
          "-f",
          "au",
          "pipe:1"};
}

}  // namespace

std::unique_ptr<Decoder> Decoder::start(const InputFile& input, std::string_view demuxers) {
  auto ffmpeg = ChildProcess::start(ffmpeg_call(demuxers), input.descriptor());
  if (!ffmpeg) return nullptr;
  return std::unique_ptr<Decoder>(new Decoder(std::move(ffmpeg)));
}

Decoder::Decoder(std::unique_ptr<ChildProcess> ffmpeg) : ffmpeg_(std::move(ffmpeg)) { read_header(); }

void Decoder::read_header() {
  std::array<unsigned char, header_bytes> header{};
  if (read_bytes(header) < header_bytes) return;
  const std::size_t start = big_endian_at(header, 4);
  const bool known = big_endian_at(header, 0) == au_magic && big_endian_at(header, 12) == au_float;
  if (!known || start < header_bytes || start > header_bytes + most_annotation_bytes) return;
  std::vector<unsigned char> annotation(start - header_bytes);
  if (read_bytes(annotation) < annotation.size()) return;
  rate_hz_ = static_cast<int>(big_endian_at(header, 16));
  channels_ = static_cast<int>(big_endian_at(header, 20));
}

/// Fewer than asked for at the end only.
std::size_t Decoder::read_bytes(std::span<unsigned char> bytes) {
  std::size_t filled = 0;
  while (filled < bytes.size()) {
    const std::size_t got = ffmpeg_->read(bytes.subspan(filled));
    if (got == 0) break;
    filled += got;
  }
  return filled;
}

std::size_t Decoder::read_frames(std::span<float> interleaved) {
  const auto width = static_cast<std::size_t>(channels_);
  assert(width > 0 && interleaved.size() % width == 0);
  bytes_.resize(interleaved.size() * sample_bytes);
  const std::size_t frames = read_bytes(bytes_) / (width * sample_bytes);
  for (std::size_t i = 0; i < frames * width; ++i)
    interleaved[i] = std::bit_cast<float>(big_endian_at(bytes_, i * sample_bytes));
  return frames;
}

FfmpegWords Decoder::words() const {
  FfmpegWords words = ffmpeg_words(ffmpeg_->said());
  // One that was killed has no last word.
  const int status = ffmpeg_->exit_status().value_or(0);
  if (status != 0 && words.errors.empty()) words.errors.push_back("exit status " + std::to_string(status));
  return words;
}

}  // namespace windway
