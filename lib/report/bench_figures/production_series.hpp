// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "bench/bench_findings.hpp"
#include "report/bench_figures/recorded_order.hpp"
#include "report/page/axis.hpp"

namespace windway {

struct SeriesPoint {
  double share = 0;  ///< along x
  double cents = 0;
  std::string name;
};

/// What a panel draws: points in order, and how far they may lie from 0 by chance.
struct PanelSeries {
  std::string title;
  std::string sentence;
  std::vector<SeriesPoint> points;
  std::optional<Axis> limits;  ///< absent of too few
  double height_px = 150;
  double least_width_cents = 1;
};

/// What the figure of the production draws.
struct ProductionSeries {
  std::vector<PanelSeries> panels;    ///< each with points; none where no home A4 is known
  std::vector<DayBegin> days;         ///< along x; empty where a take has no day
  std::vector<std::string> left_out;  ///< of the bench's own flutes, a sentence each
};

/// The latest instruments in the order of production, and what the bench's own flutes read while they were recorded.
ProductionSeries production_series(const BenchTally& tally, const BenchFindings& findings);

}  // namespace windway
