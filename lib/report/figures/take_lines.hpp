// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <vector>

#include "holds/holds.hpp"

namespace windway {

/// A line of the figure of a take is about so long.
inline constexpr double usual_line_s = 13.0;

/// A stretch of a take that one line of the figure shows.
struct TakeLine {
  double start_s = 0;
  double end_s = 0;
};

/// Lines of about 13 s over the holds of a take, at most `most_lines`; each cut lies in the pause nearest to the even
/// one, and a long silence ends a line. What does not fit is left out at the end.
std::vector<TakeLine> take_lines(const std::vector<const Hold*>& holds, std::size_t most_lines);

}  // namespace windway
