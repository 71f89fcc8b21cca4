// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <optional>

#include "statistics/gauge_table.hpp"

namespace windway {

/// One source of variation in a gauge study.
struct GaugeShare {
  double sd = 0;       ///< unit of the readings
  double percent = 0;  ///< of the total SD; the squares add up, the percents do not
};

/// The measurement's share of the measured variation. Both methods estimate the same quantities.
struct GaugeStudy {
  GaugeShare repeatability;    ///< EV: one operator, one part, again
  GaugeShare reproducibility;  ///< AV: from operator to operator; with the interaction where it is significant
  GaugeShare gauge;            ///< GRR: both together
  GaugeShare part;             ///< PV: from part to part
  double total_sd = 0;         ///< TV
  std::optional<std::uint64_t> distinct_categories;  ///< ndc = 1.41 PV / GRR, rounded down; empty where GRR is 0
};

/// Average and range method (AIAG, Measurement Systems Analysis, 4th ed.): SDs from mean ranges. Empty where all
/// readings are equal and for more than 20 parts or operators or 10 trials, for which it is not meant.
std::optional<GaugeStudy> average_and_range_study(const GaugeTable& table);

/// The sums behind a study by analysis of variance: squares of the readings' unit.
struct GaugeAnova {
  double ss_part = 0;
  double ss_operator = 0;
  double ss_interaction = 0;
  double ss_repeatability = 0;
  std::optional<double> interaction_f;  ///< empty where the same readings come every time
  bool is_pooled = false;               ///< the interaction is not significant and counts as repeatability
  double repeatability_variance = 0;    ///< mean square, pooled where `is_pooled`
  double operator_variance = 0;         ///< variances are at least 0
  double interaction_variance = 0;      ///< 0 where pooled
  double part_variance = 0;
};

/// Two-way crossed analysis of variance with random effects; the interaction is pooled with repeatability where its F
/// is not significant at 0.25 (AIAG, Measurement Systems Analysis, 4th ed., appendix A, level from memory).
GaugeAnova gauge_anova(const GaugeTable& table);

/// The study by that analysis. Empty where no variance comes out above 0.
std::optional<GaugeStudy> anova_study(const GaugeAnova& anova);

}  // namespace windway
