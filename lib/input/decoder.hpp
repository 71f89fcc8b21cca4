// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <memory>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "input/child_process.hpp"
#include "input/ffmpeg_words.hpp"
#include "input/input_file.hpp"

namespace windway {

/// The first sound track of a file as the ffmpeg program decodes it: interleaved, 1 = full scale. It comes through a
/// pipe as it is read, and nothing is written to disk. ffmpeg is handed the open file, not its name, may open no other
/// files but local ones, and takes the file for one of `demuxers` only (its own names, separated by commas). Its sums
/// may differ in the last bits from one kind of processor to another.
class Decoder {
 public:
  /// Null where there is no ffmpeg on PATH. Throws std::system_error where it cannot be started. `input` must be open
  /// until this has returned.
  static std::unique_ptr<Decoder> start(const InputFile& input, std::string_view demuxers);

  /// False where ffmpeg made no sound of the file: words() say why.
  bool has_sound() const { return channels_ > 0; }
  int rate_hz() const { return rate_hz_; }
  int channels() const { return channels_; }
  /// Fills whole frames and returns how many, 0 at the end.
  std::size_t read_frames(std::span<float> interleaved);
  /// Its errors are complete at the end.
  FfmpegWords words() const;

 private:
  explicit Decoder(std::unique_ptr<ChildProcess> ffmpeg);
  void read_header();
  std::size_t read_bytes(std::span<unsigned char> bytes);

  std::unique_ptr<ChildProcess> ffmpeg_;
  int rate_hz_ = 0;
  int channels_ = 0;
  std::vector<unsigned char> bytes_;
};

}  // namespace windway
