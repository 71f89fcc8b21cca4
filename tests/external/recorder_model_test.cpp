// SPDX-License-Identifier: GPL-3.0-or-later
// A recorder by the laws of physics, made by others: the Synthesis ToolKit's stk::Recorder (Debian libstk-dev), after
// M. P. Verge, A. Hirschberg and R. Causse, "Sound production in recorderlike instruments. II. A simulation model",
// J. Acoust. Soc. Am. 101 (1997) 2925-2939 (part I: 2914-2924).
#include "external/recorder_model.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <span>
#include <string>
#include <vector>

#include "cli/run_program.hpp"
#include "external/holds_of_file.hpp"
#include "external/long_spectrum.hpp"
#include "external/required.hpp"
#include "support/sound_file.hpp"
#include "units/units.hpp"

namespace windway::external_tests {
namespace {

constexpr double tolerance_cents = 0.3;
// The model's jet fits a pipe of about this length: here, from D5 to a quarter of a tone above, it speaks in its first
// register at every amplitude below, and the pitch rises evenly with it. C5, E5, a very soft E flat 5 and a D5 above an
// amplitude of 0.85 overblow, and then have no first-register pitch to compare.
constexpr std::array<double, 3> fingered_hz{587.3295, 596.0, 605.0};
constexpr std::array<double, 5> amplitudes{0.15, 0.3, 0.45, 0.6, 0.75};

std::vector<ModelBlow> every_note_at_every_amplitude() {
  std::vector<ModelBlow> blows;
  for (const double hz : fingered_hz) {
    for (const double amplitude : amplitudes) blows.push_back({hz, amplitude});
  }
  return blows;
}

std::vector<Hold> holds_of(const std::vector<float>& samples) {
  const cli_tests::ScratchFolder folder;
  const std::string path = folder.path("model.wav");
  synthesis::write_sound(path, samples, model_rate_hz, 1, 32);
  return holds_of_file(path);
}

std::span<const float> steady_samples(const std::vector<float>& samples, const Hold& hold) {
  const auto start = static_cast<std::size_t>(hold.steady_start_s * model_rate_hz);
  const auto end = static_cast<std::size_t>(hold.steady_end_s * model_rate_hz);
  return std::span(samples).subspan(start, end - start);
}

TEST(ModelRecorder, EveryHoldReadsAsItsSpectrumDoes) {
  const std::vector<ModelBlow> blows = every_note_at_every_amplitude();
  const auto samples = play_model_recorder(blows);
  WINDWAY_NEEDS(samples, "STK");
  const std::vector<Hold> holds = holds_of(*samples);
  ASSERT_EQ(holds.size(), blows.size());
  double largest_cents = 0;
  for (std::size_t i = 0; i < holds.size(); ++i) {
    EXPECT_GT(holds[i].steady_end_s - holds[i].steady_start_s, 0.7 * model_blow_s);
    const double spectral_hz =
        spectral_peak_hz(steady_samples(*samples, holds[i]), model_rate_hz, blows[i].fingered_hz, 80);
    const double off_cents = cents_between(spectral_hz, holds[i].frequency_hz);
    EXPECT_NEAR(off_cents, 0.0, tolerance_cents) << blows[i].fingered_hz << " Hz at " << blows[i].amplitude;
    largest_cents = std::max(largest_cents, std::abs(off_cents));
  }
  RecordProperty("largest_cents", std::to_string(largest_cents));
}

TEST(ModelRecorder, SoundsSharperTheHarderItIsBlown) {
  const std::vector<ModelBlow> blows = every_note_at_every_amplitude();
  const auto samples = play_model_recorder(blows);
  WINDWAY_NEEDS(samples, "STK");
  const std::vector<Hold> holds = holds_of(*samples);
  ASSERT_EQ(holds.size(), blows.size());
  for (std::size_t i = 1; i < holds.size(); ++i) {
    if (blows[i].fingered_hz != blows[i - 1].fingered_hz) continue;
    EXPECT_GT(cents_between(holds[i - 1].frequency_hz, holds[i].frequency_hz), 1.0)
        << blows[i].fingered_hz << " Hz from " << blows[i - 1].amplitude << " to " << blows[i].amplitude;
    EXPECT_GT(holds[i].level_db, holds[i - 1].level_db);
  }
}

}  // namespace
}  // namespace windway::external_tests
