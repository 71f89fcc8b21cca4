// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "input/input_file.hpp"
#include "recording/coding.hpp"

namespace windway {

/// The samples of a file as libsndfile, or where it does not read it the ffmpeg program, decodes them: interleaved, 1 =
/// full scale in every format.
class SoundFile {
 public:
  /// Opens `input`, which must outlive this. Throws Error (kind recording) with `path` and the remedy:
  /// a telephone's container without ffmpeg, a damaged one, no sound file at all, a rate or a number of channels that
  /// cannot be used, no frames.
  SoundFile(const InputFile& input, const std::string& path);
  ~SoundFile();

  int rate_hz() const;
  int channels() const;
  const Coding& coding() const;
  /// From the header; empty where the format does not have it there.
  std::optional<std::int64_t> claimed_frames() const;
  /// What ffmpeg could not decode, complete at the end, each once; of what libsndfile reads none.
  std::vector<std::string> decoding_errors() const;
  /// The first is read.
  int sound_tracks() const;
  /// True if seek() costs nothing: the samples are uncompressed.
  bool seeks_cheaply() const;
  /// Quantisation step near full scale, where it is coarse (8 bits, A-law, mu-law); else 0.
  double sample_step() const;
  /// Date of the recording from the file's metadata, as ISO 8601.
  std::optional<std::string> recorded_at() const;

  /// Fills whole frames and returns how many, 0 at the end. `interleaved` must hold a whole number of frames.
  /// NaN, infinite and absurdly large samples are read as 0.
  std::size_t read_frames(std::span<float> interleaved);
  /// Goes to a frame; false where the file cannot seek.
  bool seek(std::int64_t frame);
  /// True if a sample was replaced by 0 since the file was opened.
  bool met_non_finite() const { return met_non_finite_; }

 private:
  std::size_t read_sixteen_bits(std::span<float> interleaved);

  struct Handle;
  std::unique_ptr<Handle> handle_;
  bool met_non_finite_ = false;
  std::vector<std::int16_t> sixteen_bits_;
};

}  // namespace windway
