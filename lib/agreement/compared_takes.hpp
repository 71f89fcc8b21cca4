// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "agreement/head_places.hpp"
#include "agreement/take_table.hpp"

namespace windway {

/// Several takes with everything that the models of their differences are made from.
struct ComparedTakes {
  TakeTable table;
  std::vector<double> cents_per_mm;    ///< by note
  std::vector<double> bend_cents;      ///< by note: its spread, of those without the median; empty: not known
  std::vector<double> foretold_cents;  ///< by cell; empty: one place
  double factor_sd = 0;
};

ComparedTakes compared_takes(TakeTable table, const std::vector<TakeNotes>& takes, double speed_of_sound_m_s,
                             const std::optional<HeadPlaces>& places, const SlideFactor& factor);

/// The notes' own pitches and, of each take, how far it is off by these patterns.
TakeFit fit_patterns(const ComparedTakes& all, std::vector<std::vector<double>> patterns);

/// The pattern of warmth: every note by 1 cent.
std::vector<double> alike(const ComparedTakes& all);

/// All ways in which the notes of a take move together: warmth, the head (about its mean), the breath where the bends
/// are known.
TakeFit fit_all(const ComparedTakes& all);
inline constexpr std::size_t head_pattern = 1;  ///< of fit_all

/// Mean over the notes of what a mm of the head makes.
double mean_cents_per_mm(const ComparedTakes& all);

}  // namespace windway
