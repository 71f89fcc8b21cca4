// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "bench/bench_tally.hpp"
#include "statistics/capability.hpp"
#include "statistics/control_chart.hpp"
#include "statistics/gauge_study.hpp"
#include "statistics/variance_components.hpp"
#include "verdict/hole_advice.hpp"

namespace windway {

/// One instrument that stands apart on one note.
struct NamedDeviation {
  std::string name;
  double cents = 0;
};

/// Those that stand apart; the first of them by name, so that room does not grow with a bench that is all apart.
struct NamedDeviations {
  static constexpr std::size_t most_listed = 100;

  std::vector<NamedDeviation> listed;
  std::size_t count = 0;
};

/// A note over the whole bench; cents after each instrument's own best slide, + sharp.
struct NoteFinding {
  NoteId note;
  int register_number = 1;
  Moments left;
  std::optional<double> sd_cents;
  std::optional<double> share_5_cents;  ///< below which 5 % of the instruments lie
  std::optional<double> share_25_cents;
  std::optional<double> median_cents;
  std::optional<double> share_75_cents;
  std::optional<double> share_95_cents;
  std::optional<double> tolerance_cents;
  std::optional<Capability> capability;  ///< absent without a tolerance
  Moments spread;
  std::optional<IndividualsChart> chart;  ///< in production order
  NamedDeviations beyond_chart;           ///< in production order
  NamedDeviations outliers;               ///< far from the middle by a measure that they do not move themselves
  NamedDeviations beyond_tolerance;       ///< as read, its uncertainty aside; the farthest first
  NamedDeviations outliers_within_tolerance;
  std::optional<RepeatabilitySd> repeatability;
  std::optional<double> between_sd_cents;    ///< from instrument to instrument, what repeats badly taken out
  std::optional<GaugeStudy> gauge;           ///< by analysis of variance
  std::optional<GaugeStudy> gauge_by_range;  ///< by average and range
};

struct GroupNote {
  NoteId note;
  CentsEstimate above_rest;  ///< mean of the group less mean of the rest
  bool is_sure = false;      ///< beyond what chance shows on any note of any group: stricter than its own u95
};

struct GroupFinding {
  std::string name;
  VerdictCounts verdicts;
  std::vector<GroupNote> notes;  ///< those of which both have two instruments at least
};

/// A series in time as one figure an instrument: the home A4, in cents from the mean.
struct SeriesFinding {
  std::size_t takes = 0;
  double mean_home_a4_hz = 0;
  std::optional<IndividualsChart> chart;  ///< cents
  NamedDeviations beyond_chart;
  std::optional<CentsEstimate> rise;      ///< from the first to the last
  std::optional<SubgroupChart> days;      ///< where each day has equally many takes, two at least; cents
  std::vector<NamedDeviation> day_means;  ///< with `days`: each day's
  NamedDeviations days_beyond;            ///< days whose mean lies beyond the chart of means
};

struct KeeperFinding {
  std::string serial;
  SeriesFinding series;
};

struct BenchFindings {
  std::vector<NoteFinding> notes;    ///< ascending
  std::vector<GroupFinding> groups;  ///< none where the takes were told apart by several things
  std::size_t comparisons = 0;       ///< notes of groups that are set against the rest: is_sure allows for so many
  std::optional<SeriesFinding> instruments;  ///< in production order
  std::vector<KeeperFinding> keepers;        ///< by serial
  std::optional<BenchAdvice> advice;
  std::optional<DaysApart> days_apart;            ///< where no temperature was said
  std::optional<std::string> why_no_gauge_study;  ///< where operators are named and no note gives a whole table
};

BenchFindings findings_of(const BenchTally& tally);

}  // namespace windway
