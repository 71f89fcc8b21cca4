// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <span>
#include <string>

#include "error.hpp"
#include "warning.hpp"

namespace windway {

/// Properties of a recorded take. Complete once the recording has been read to its end.
struct TakeInfo {
  std::string path;                        ///< as given; "-" is standard input
  std::string sha256;                      ///< of the whole file, lower-case hexadecimal; empty where not asked for
  std::optional<std::string> recorded_at;  ///< ISO 8601, from the file's own metadata
  std::string coding;                      ///< container and codec, in the words of what decodes it
  std::optional<bool> lossy;  ///< the codec leaves out or coarsens what it thinks is not heard; empty: unknown
  double duration_s = 0.0;
  double sample_rate_hz = 0.0;
  int channels = 0;
  int channel_used = 0;        ///< counted from 0
  double clipped_share = 0.0;  ///< share of samples in runs at the channel's extreme value
  double peak = 0.0;           ///< largest |sample| of the channel used, 1 = full scale
  bool non_finite = false;     ///< NaN or infinite samples were read as 0
};

/// Why nothing was found in a take: it is silent or nearly silent, with the remedy, or else `otherwise`.
std::string why_nothing(const TakeInfo& take, const std::string& otherwise);

/// Whether to compute the SHA-256 of the file. It takes a tenth of the time of a measurement; not every report shows
/// it.
enum class Digest { taken, left_out };

/// One channel of a recorded take, read in blocks at the working rate (the file's rate over a whole number, so that
/// it lies between 14 and 28 kHz, or the file's own rate where that is lower). Memory does not grow with the take.
class Recording {
 public:
  /// Opens `path` ("-": standard input). Throws Error (kind recording) with the remedy.
  explicit Recording(const std::string& path, Digest digest = Digest::taken);
  ~Recording();

  double working_rate_hz() const;
  /// Fills `samples` from the front and returns how many, 0 at the end of the take. Sample k of the take is at
  /// k / working_rate_hz() seconds: the delay of the rate change is removed.
  std::size_t read(std::span<float> samples);
  const TakeInfo& info() const;
  /// Of clipping, non-finite samples, a truncated or damaged file, sound tracks left out. Complete at the end of the
  /// take.
  Warnings warnings() const;

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace windway
