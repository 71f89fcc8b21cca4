// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "compare/compare.hpp"
#include "measurement.hpp"
#include "playing/playing.hpp"
#include "report/page/rows_figure.hpp"

namespace windway {

/// Before and after of each note as two wedges in its row, cents from the target of the take before.
RowsFigure compare_figure(const Comparison& comparison, const Measurement& before, const Measurement& after);

/// How each note comes out in playing: its middle half and its median over the wedge of the scale take.
RowsFigure playing_figure(const Playing& playing);

}  // namespace windway
