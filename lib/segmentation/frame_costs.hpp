// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <vector>

#include "segmentation/frame_series.hpp"
#include "segmentation/segmentation_model.hpp"
#include "segmentation/take_traits.hpp"

namespace windway {

/// The pitches at which tones stand in a phrase, ascending: cells of a grid.
struct PitchCells {
  static constexpr double width_cents = 20.0;  // finer than what one note scatters by
  std::vector<float> cents;

  std::size_t count() const { return cents.size(); }
  bool are_neighbours(std::size_t lower) const { return cents[lower + 1] - cents[lower] < 1.5 * width_cents; }
};

/// The smaller of two; loops with it are done for several numbers at once.
inline float least(float a, float b) { return b < a ? b : a; }

/// What sounds in a frame without a pitch of its own to keep.
enum class Unpitched : std::size_t { silence, unsteady, foreign };
inline constexpr std::size_t unpitched_states = 3;

/// Cost of one frame in each state, nats; that of pitched states by cell.
struct FrameCosts {
  std::vector<float> blown, interrupted, echo;
  std::array<float, unpitched_states> unpitched{};
};

/// Costs of the frames of one take. All are relative to a pitch that is spread evenly over all that flutes play.
class CostModel {
 public:
  CostModel(const FrameSeries& series, const TakeTraits& traits, const SegmentationModel& model);

  /// The same with another rate at which echoes die.
  CostModel with_echo_fall(double db_per_s) const;

  /// How fast the breath noise falls about a frame, dB per second; absent where it is not heard.
  std::optional<double> noise_fall_db_per_s(std::size_t frame) const;

  /// Fills in the costs of a frame; `costs` keeps its room from frame to frame.
  void find(std::size_t frame, const PitchCells& cells, FrameCosts& costs) const;

 private:
  /// How surely the breath is heard in a frame, 0 to 1.
  double heard_share(std::size_t frame) const;
  double breath_cost(std::size_t frame) const;
  double echo_cost(std::size_t frame) const;
  double foreign_cost(std::size_t frame) const;
  void add_pitch(std::size_t frame, double breath, const PitchCells& cells, FrameCosts& costs) const;

  const FrameSeries* series_;
  const TakeTraits* traits_;
  SegmentationModel model_;
  double often_, seldom_;           // cost of a frame that is tonal, or not, as most of its state are, or as few
  std::vector<bool> breath_stops_;  // by frame: the noise lies under what it was just before or will be
  std::vector<float> fall_db_per_s_, noise_fall_db_per_s_;  // by frame; 0 where the tone shows none
};

}  // namespace windway
