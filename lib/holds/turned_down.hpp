// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "segmentation/frame_series.hpp"

namespace windway {

/// True if the tone sounds on after a steady part, far softer yet at the very same pitch and as steadily. No breath
/// does that, since softer is flatter (common practice, no source): a voice filter has taken the tone for noise and
/// turned it down.
bool turned_down_after(const FrameSeries& series, const FrameSpan& steady);

}  // namespace windway
