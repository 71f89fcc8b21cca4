// SPDX-License-Identifier: GPL-3.0-or-later
#include "external/recorder_model.hpp"

#ifdef WINDWAY_HAS_STK
#include <stk/Recorder.h>

#include <cstdlib>
#endif

namespace windway::external_tests {

#ifdef WINDWAY_HAS_STK

std::optional<std::vector<float>> play_model_recorder(const std::vector<ModelBlow>& blows) {
  stk::Stk::setSampleRate(model_rate_hz);
  stk::Recorder recorder;
  std::srand(1);  // STK's breath noise is std::rand(), seeded by the clock when a Recorder is made
  std::vector<float> samples;
  const auto sound = [&](double duration_s) {
    for (int i = 0; i < static_cast<int>(duration_s * model_rate_hz); ++i)
      samples.push_back(static_cast<float>(recorder.tick()));
  };
  for (const ModelBlow& blow : blows) {
    recorder.noteOn(blow.fingered_hz, blow.amplitude);
    recorder.setVibratoGain(0);
    sound(model_blow_s);
    recorder.noteOff(blow.amplitude);
    sound(model_gap_s);
  }
  return samples;
}

#else

std::optional<std::vector<float>> play_model_recorder(const std::vector<ModelBlow>&) { return std::nullopt; }

#endif

}  // namespace windway::external_tests
