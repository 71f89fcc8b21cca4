// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <cstdint>
#include <cstring>

namespace windway {

/// Four numbers in one register (SSE2, NEON).
using Four = float __attribute__((vector_size(16)));
/// The result of comparing two Fours: -1 for true, 0 for false.
using FourTruths = std::int32_t __attribute__((vector_size(16)));

inline Four four_at(const float* from) {
  Four four;
  std::memcpy(&four, from, sizeof four);
  return four;
}

inline void put(Four four, float* to) { std::memcpy(to, &four, sizeof four); }

inline float total(Four four) { return (four[0] + four[1]) + (four[2] + four[3]); }

inline bool any(FourTruths truths) {
  std::array<std::uint64_t, 2> halves;
  std::memcpy(halves.data(), &truths, sizeof truths);
  return (halves[0] | halves[1]) != 0;
}

}  // namespace windway
