// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "bench/bench_entry.hpp"
#include "bench/production.hpp"
#include "statistics/moments.hpp"

namespace windway {

/// What is known of the temperatures in the bores of a bench, degrees C.
struct BenchWarmth {
  static constexpr std::size_t most_listed = 5;

  Moments said_c;              ///< as the manifest says them
  std::uint64_t not_said = 0;  ///< takes of which it says none
  std::vector<std::string> not_said_of;
  std::optional<double> quoted_c;  ///< that all pitches are given for; absent: as they were recorded, or not all at one
  bool quoted_differ = false;
};

void add(BenchWarmth& warmth, const BenchEntry& entry);

/// The coldest and the warmest day, by the home A4s.
struct DaysApart {
  std::string lowest_day;
  double lowest_hz = 0;
  std::string highest_day;
  double highest_hz = 0;
};

/// Where instruments of one day are more alike than chance makes one bench in a thousand (one-way analysis of
/// variance of the home A4, days with two instruments at least); empty: they are not, or it cannot be told.
std::optional<DaysApart> days_apart(const std::vector<const Produced*>& made);

}  // namespace windway
