// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "report/bench/bench_report.hpp"
#include "report/pages/page_source.hpp"

namespace windway {

/// The report of a bench as a page: how many pass, what goes back to the bench, the figures, the statistics. Its room
/// does not grow with the bench: of those that go back the first ones are named, the others counted.
std::unique_ptr<BenchReport> bench_page(const TallyRules& rules, const PageSource& source);

/// One figure of it alone, as an SVG file: one of bench_figures(), "" the first. `finish` throws Error (kind recording)
/// where the bench does not have it.
std::unique_ptr<BenchReport> bench_picture(const std::string& figure);

/// The names of these figures.
std::vector<std::string> bench_figures();

}  // namespace windway
