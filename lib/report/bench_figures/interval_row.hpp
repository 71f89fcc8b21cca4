// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "report/page/axis.hpp"
#include "report/page/rows_figure.hpp"
#include "units/units.hpp"

namespace windway {

/// So many figures stand along the axis of rows of intervals at most.
inline constexpr int most_interval_ticks = 7;

/// An axis that holds every interval.
Axis axis_over_intervals(const std::vector<CentsEstimate>& estimates);

/// An interval with its middle, a dot where it is surely not 0, else a ring.
Markup interval_picture(const CentsEstimate& estimate, bool is_sure, const Axis& axis, double row_px);

/// The keys of such rows: what a dot, and what the interval is called.
std::vector<FigureKey> interval_keys(const std::string& sure, const std::string& interval_name);

}  // namespace windway
