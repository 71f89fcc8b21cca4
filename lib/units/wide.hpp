// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <cstdint>
#include <utility>

namespace windway {

/// Numbers that are worked on side by side, in two registers or in four.
inline constexpr std::size_t lanes = 16;

/// Floats in a register of so many bytes; whether something holds for each, -1 or 0, as comparisons of them give it;
/// and as many in memory, at any address.
template <std::size_t bytes>
struct RegisterOf;
template <>
struct RegisterOf<16> {
  using Numbers = float __attribute__((vector_size(16)));
  using Truths = std::int32_t __attribute__((vector_size(16)));
  using Anywhere = float __attribute__((vector_size(16), aligned(sizeof(float)), may_alias));
};
template <>
struct RegisterOf<32> {
  using Numbers = float __attribute__((vector_size(32)));
  using Truths = std::int32_t __attribute__((vector_size(32)));
  using Anywhere = float __attribute__((vector_size(32), aligned(sizeof(float)), may_alias));
};

/// All lanes in registers of so many bytes. The compiler knows a good way only for registers that the processor has:
/// wider ones are taken apart number by number.
template <std::size_t bytes>
struct Wide : RegisterOf<bytes> {
  static constexpr std::size_t registers = lanes * sizeof(float) / bytes;
  static constexpr std::size_t in_each = bytes / sizeof(float);
};

/// Bytes of the registers that in_widest works in: 32 (AVX2) where the processor has them, for those of 64 gain next to
/// nothing, and make some processors slow down. Tests may ask for narrower ones.
inline std::size_t& register_bytes() {
#if defined(__x86_64__)
  static std::size_t bytes = __builtin_cpu_supports("avx2") ? 32 : 16;
#else
  static std::size_t bytes = 16;
#endif
  return bytes;
}

#if defined(__x86_64__)
template <class Work, class... Arguments>
__attribute__((target("avx2"))) void in_registers_of_32(Arguments&&... arguments) {
  Work::template run<32>(std::forward<Arguments>(arguments)...);
}
#endif

/// Runs Work::run<bytes>, which must be inlined always, as compiled for the registers of this processor. It must
/// give the same bits in all: each of the `lanes` numbers has its own sum.
template <class Work, class... Arguments>
void in_widest(Arguments&&... arguments) {
#if defined(__x86_64__)
  if (register_bytes() == 32) return in_registers_of_32<Work>(std::forward<Arguments>(arguments)...);
#endif
  Work::template run<16>(std::forward<Arguments>(arguments)...);
}

}  // namespace windway
