// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <vector>

#include "segmentation/frame_costs.hpp"

namespace windway {

/// What a frame is part of, on the path of least cost.
struct PathFrame {
  enum class State : unsigned char { blown, interrupted, echo, unpitched };
  State state = State::unpitched;
  bool begins = false;  ///< the first frame of a blow
  double cents = 0;     ///< of the cell, but for unpitched frames
};

/// The path of least cost through the states of the frames of a span, from silence to silence. A blow
/// lasts its shortest time at least (explicit duration). (A. J. Viterbi, IEEE Trans. Inf. Theory 13 (1967) 260; L. R.
/// Rabiner, Proc. IEEE 77 (1989) 257, section IV D; both from memory.) Cost: frames times cells.
std::vector<PathFrame> best_path(const CostModel& costs, const SegmentationModel& model, const PitchCells& cells,
                                 const FrameSpan& span, double hop_s);

}  // namespace windway
