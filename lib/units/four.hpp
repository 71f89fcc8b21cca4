// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <cstdint>
#include <cstring>

namespace windway {

/// Four numbers in one register: what every x86-64 and its like have.
using Four = float __attribute__((vector_size(16)));
/// Of each of four whether something holds: -1 or 0, as comparisons of Four give it.
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
