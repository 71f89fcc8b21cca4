// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "measurement.hpp"
#include "report/page/markup.hpp"

namespace windway {

/// The take as it was heard: loudness above, each hold with its note, its blow and its pitch below; what was left out
/// and why. In lines of some seconds that break between notes. Empty where the result has no holds.
Markup take_section(const Measurement& measurement);

/// A stretch of a take that one line of the figure shows.
struct TakeLine {
  double start_s = 0;
  double end_s = 0;
};

/// Lines of about 13 s over the holds of a take, at most `most_lines`; each cut lies in the pause nearest to the even
/// one, and a long silence ends a line. What does not fit is left out at the end.
std::vector<TakeLine> take_lines(const std::vector<const Hold*>& holds, std::size_t most_lines);

}  // namespace windway
