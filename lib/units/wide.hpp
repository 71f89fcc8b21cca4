// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <cstdint>

// A function of this kind is there several times, once for each width of register, and the widest that the processor
// has is chosen when the program starts. All must give the same bits: each number stays in its own lane. (The
// sanitizers' runtimes are not up yet when that choice is made, and Clang 14 does not offer it.)
#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__) && !defined(__SANITIZE_ADDRESS__) && \
    !defined(__SANITIZE_THREAD__)
#define WINDWAY_WIDE __attribute__((target_clones("default", "arch=x86-64-v3", "arch=x86-64-v4")))
#else
#define WINDWAY_WIDE
#endif

namespace windway {

/// As many numbers as the widest register holds.
inline constexpr std::size_t lanes = 16;
using Lanes = float __attribute__((vector_size(lanes * sizeof(float))));
using LaneTruths = std::int32_t __attribute__((vector_size(lanes * sizeof(float))));  ///< -1 or 0, as comparisons give
/// Those at any address.
using LanesAnywhere = float __attribute__((vector_size(lanes * sizeof(float)), aligned(sizeof(float)), may_alias));

}  // namespace windway
