// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <optional>

#include "bench/bench_findings.hpp"
#include "bench/history.hpp"
#include "report/page/panels_figure.hpp"
#include "report/page/rows_figure.hpp"

namespace windway {

/// Each note against its tolerance: where most instruments lie, those beyond it and those far from the rest. Does not
/// grow with the number of instruments. There must be notes.
RowsFigure notes_figure(const BenchTally& tally, const BenchFindings& findings);

/// The home A4 of each of the latest instruments in the order of production, below it that of the bench's own flutes at
/// the same time. Absent where no home A4 is known.
std::optional<PanelsFigure> production_figure(const BenchTally& tally, const BenchFindings& findings);

/// What the whole bench shares: how far each degree lies off the line of the others. `model` says how notes are spelt.
RowsFigure shared_figure(const BenchAdvice& advice, const BenchEntry& model);

/// What the work of one step did to each note of an instrument. `step` is its index in the history.
RowsFigure step_figure(const History& history, std::size_t step);

}  // namespace windway
