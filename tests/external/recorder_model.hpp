// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

namespace windway::external_tests {

/// One note as the model recorder is asked for it: the fingered frequency, and how hard it is blown.
struct ModelBlow {
  double fingered_hz = 0;
  double amplitude = 0;
};

inline constexpr double model_rate_hz = 48000;
inline constexpr double model_blow_s = 1.6;
inline constexpr double model_gap_s = 0.5;

/// The blows one after the other, from STK's stk::Recorder. Blow i begins at i * (model_blow_s + model_gap_s). Empty
/// where STK was not there when this was built.
std::optional<std::vector<float>> play_model_recorder(const std::vector<ModelBlow>& blows);

}  // namespace windway::external_tests
