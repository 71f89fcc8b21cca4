// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "measurement.hpp"
#include "report/page/rows_figure.hpp"
#include "report/pages/page_source.hpp"

namespace windway {

/// The measurement as a page: what to do with the head, the figures, every number as a table, what it rests on.
std::string measurement_page(const Measurement& measurement, const PageSource& source);

/// One figure of it alone, as an SVG file: one of measurement_figures(), "" the first. Throws Error (kind recording)
/// where the measurement does not have it.
std::string measurement_svg(const Measurement& measurement, const std::string& figure);

/// The names of these figures.
std::vector<std::string> measurement_figures();

}  // namespace windway
