// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "support/played_takes.hpp"

namespace windway::synthesis {

/// Ground on which measuring is hard; `plain` is there to compare with.
enum class WideKind {
  plain,
  steep_room,    ///< slopes of 4 to 10 cents a dB over 4.5 dB, in a live room
  octave_drop,   ///< a soft blow of the upper octave falls to the lower one midway
  hysteresis,    ///< a swell jumps up an octave at a stronger breath than it falls back at
  fade,          ///< every hold ends in a fade of 300 ms that sags 100 cents
  mp3,           ///< 16 or 22.05 kHz at 24 to 40 kbit/s
  opus,          ///< 8, 16 or 24 kHz at 10 to 24 kbit/s
  voice_filter,  ///< 20 to 40 dB down within a second of each onset
  rate_16_khz,   ///< a recording at 16 kHz
  rate_8_khz,    ///< at 8 kHz, fundamentals up to 3.3 kHz
  low_whistle,   ///< lowest note G3
  garklein,      ///< a recorder on C6, two octaves
};

std::vector<WideKind> wide_kinds();
std::string kind_name(WideKind kind);

struct WideTake {
  PlayedTake played;
  std::string ending;      ///< of the file's name: ".wav", ".mp3", ".opus"
  double kbit_s = 0.0;     ///< of a compressed file
  bool notes_told = true;  ///< every note has a response that soft, moderate and hard can be held against
};

/// The same kind and seed give the same take.
WideTake play_wide_take(WideKind kind, std::uint64_t seed);

/// Writes the take's file, one channel; gives how much later than in the take everything stands in it, s.
double write_take(const WideTake& take, const std::string& path);

}  // namespace windway::synthesis
