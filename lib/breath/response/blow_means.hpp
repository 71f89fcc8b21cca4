// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <map>
#include <optional>
#include <vector>

#include "breath/blows/blows.hpp"

namespace windway {

/// One hold's pitch as a reading of its note's response.
struct HoldPitch {
  double cents = 0;                ///< deviation, at the reference time where drift was corrected
  double variance_cents2 = 0;      ///< the breath's wander and the reading
  double correction_sd_cents = 0;  ///< of the drift's correction: shared by holds of one time
};

/// The whole blows of one note that share a strength: equal weight a blow.
struct BlowMean {
  double cents = 0;
  double variance_cents2 = 0;
  double correction_sd_cents = 0;
  std::map<int, double> time_s_by_take;  ///< mean of the middles of a take's holds
  double noise_db = 0, colour_db = 0, level_db = 0;
};

/// Mean over the holds listed; they must not be none.
BlowMean mean_of_holds(const Naming& naming, const std::vector<HoldPitch>& pitch,
                       const std::vector<std::size_t>& holds);

/// Halfway between two strengths of one note.
BlowMean midway(const BlowMean& a, const BlowMean& b);

/// How many times the blows of one strength differ beyond their variances, at least 1: players do not repeat a blow as
/// steadily as they hold it. `group` by hold (same note, same blow; negative: not a whole blow). A take without repeats
/// gives 1; a few repeats move it little.
double repeat_excess(const std::vector<HoldPitch>& pitch, const std::vector<int>& group);

/// SD with which the player repeats a blow's level, within takes; absent below three repeats.
std::optional<double> repeat_level_db(const Naming& naming, const std::vector<int>& group);

/// By hold: one number for each note and strength among the used whole blows, -1 for the other holds.
std::vector<int> blow_groups(const Naming& naming, const Blows& blows);

}  // namespace windway
