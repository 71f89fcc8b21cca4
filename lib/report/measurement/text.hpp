// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <string>

#include "measurement.hpp"
#include "report/wording/layout.hpp"

namespace windway {

/// The measurement for people: what to do with the head, the table of the notes, what is doubtful and what to do about
/// it. UTF-8, at most `columns` wide, ends with a line feed.
std::string text_report(const Measurement& measurement, std::size_t columns = text_columns);

}  // namespace windway
