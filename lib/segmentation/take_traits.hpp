// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "segmentation/frame_series.hpp"
#include "segmentation/segmentation_model.hpp"

namespace windway {

/// A tone that sounds on between the notes, whatever is played: a whine.
struct ForeignTone {
  double cents = 0, cents_sd = 0;
  double level_db = 0, level_sd_db = 0;
};

/// Properties of a take as a whole that its frames are judged by.
struct TakeTraits {
  double loud_db = 0;              ///< the level that one tonal frame in ten passes
  bool breath_heard = false;       ///< breath noise stands clear of the noise between the notes
  std::size_t vibrato_frames = 0;  ///< period of the breath's vibrato; 0 where there is none
  std::vector<ForeignTone> foreign;
};

/// Empty where no frame is tonal.
std::optional<TakeTraits> traits_of(const FrameSeries& series, const SegmentationModel& model);

/// Breath noise that stands this far over the quiet noise is heard: it is the player's.
inline constexpr double breath_heard_db = 6.0;

}  // namespace windway
