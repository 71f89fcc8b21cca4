// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <vector>

#include "segmentation/frame_series.hpp"
#include "segmentation/segmentation_model.hpp"

namespace windway {

/// A stretch of one blown note: spans of frames with interruptions between them (a cut, a tap, a slip of the register).
struct Piece {
  std::vector<FrameSpan> spans;  ///< ascending, at least one

  std::size_t first() const { return spans.front().first; }
  std::size_t last() const { return spans.back().last; }
};

/// What is blown when, in order of time: the likeliest sequence of silence, blown notes, their echoes, unsteady and
/// foreign sound. A change of note divides it, and so does a new blow of the same note, in a room's echo too.
std::vector<Piece> find_pieces(const FrameSeries& series, const SegmentationModel& model = {});

}  // namespace windway
