// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "recording/input_file.hpp"

namespace windway {

/// The samples of a file as libsndfile decodes them: interleaved, 1 = full scale, whatever the file holds.
class SoundFile {
 public:
  /// Opens what `input` holds; it must outlive this. Throws Error (kind recording) that names `path` and the remedy:
  /// a telephone's container, no sound file at all, a rate or a number of channels that cannot be used, no frames.
  SoundFile(const InputFile& input, const std::string& path);
  ~SoundFile();

  int rate_hz() const;
  int channels() const;
  /// As the header says; empty where the format does not say it beforehand.
  std::optional<std::int64_t> claimed_frames() const;
  /// Whether seek() costs nothing: uncompressed samples.
  bool seeks_cheaply() const;
  /// Distance of neighbouring sample values near full scale, where it is coarse (8 bits, A-law, mu-law); else 0.
  double sample_step() const;
  /// When it was recorded, as ISO 8601, by the file's own metadata.
  std::optional<std::string> recorded_at() const;

  /// Fills whole frames; gives how many, 0 at the end. `interleaved` must hold a whole number of frames.
  /// NaN, infinite and absurdly large samples come as 0.
  std::size_t read_frames(std::span<float> interleaved);
  /// Goes to a frame; false where the file does not let it.
  bool seek(std::int64_t frame);
  /// Whether a sample had to be replaced by 0 since the file was opened.
  bool met_non_finite() const { return met_non_finite_; }

 private:
  std::size_t read_sixteen_bits(std::span<float> interleaved);

  struct Handle;
  std::unique_ptr<Handle> handle_;
  bool met_non_finite_ = false;
  std::vector<std::int16_t> sixteen_bits_;
};

}  // namespace windway
