// SPDX-License-Identifier: GPL-3.0-or-later
// Doubts that only the whole job can have: from the sound on.
#include <gtest/gtest.h>

#include <tuple>

#include "measured_take.hpp"
#include "support/plan.hpp"
#include "support/tones.hpp"

namespace windway {
namespace {

using namespace synthesis;
using test::measured;

/// A scale of thirteen notes, each soft, moderate and hard; from the eighth on the head is `out_mm` farther out.
std::vector<float> scale_with_step(double out_mm) {
  Random random(31);
  const FluteModel flute = draw_flute({.overall_cents = 12.0}, random);
  const std::vector<int> midi = major_scale(74, 21);
  std::vector<float> samples;
  for (const auto& [first, count, mm] : {std::tuple(0, 7, 0.0), std::tuple(7, 6, out_mm)}) {
    const std::vector<int> part(midi.begin() + first, midi.begin() + first + count);
    const auto plan = note_by_note(part, {Blow::soft, Blow::moderate, Blow::hard}, {}, {}, random);
    const SyntheticTake take = synthesise_take(drawn_out(flute, mm), plan, {}, random);
    samples.insert(samples.end(), take.samples.begin(), take.samples.end());
  }
  return samples;
}

TEST(ScaleInTwo, IsSaidWhereTheHeadMovedWithinAScaleThatWasPlayedOnce) {
  const double rate_hz = Performance{}.rate_hz;
  const Measurement moved = measured(scale_with_step(5.0), rate_hz);
  const Warning* warning = find_warning(moved.warnings, WarningCode::scale_in_two);
  ASSERT_TRUE(warning);
  EXPECT_NE(warning->message.find("as if the head had been drawn out by"), std::string::npos) << warning->message;
  EXPECT_FALSE(find_warning(measured(scale_with_step(0.0), rate_hz).warnings, WarningCode::scale_in_two));
}

class TakesWithoutACommonNote : public ::testing::Test {
 protected:
  static Warning said_of(const std::vector<std::vector<int>>& scales) {
    std::vector<std::vector<float>> sounds;
    for (const auto& scale : scales) sounds.push_back(test::steps_take(scale, 5 + sounds.size()).sound.samples);
    const Measurement found = test::measured_together(sounds, Performance{}.rate_hz);
    const Warning* warning = find_warning(found.warnings, WarningCode::takes_not_compared);
    return warning ? *warning : Warning{};
  }
};

TEST_F(TakesWithoutACommonNote, CannotBeCompared) {
  EXPECT_EQ(said_of({{74, 76, 78}, {79, 81, 83}}).message.rfind("no two of the takes share a note", 0), 0U);
}

TEST_F(TakesWithoutACommonNote, AreNamedWhereOthersHaveOne) {
  const std::string message = said_of({{74, 76, 78}, {74, 76, 78}, {79, 81, 83}}).message;
  EXPECT_NE(message.find("take2.wav shares no note with the other takes"), std::string::npos) << message;
  EXPECT_EQ(said_of({{74, 76, 78}, {74, 76, 78}}).code, WarningCode::unknown);
}

TEST(LoudBackground, IsSaidWhereItNearlyReachesTheSoftestNote) {
  test::PlayedTake take = test::steps_take({74, 79, 83}, 8);
  const double rate_hz = take.sound.rate_hz;
  EXPECT_FALSE(find_warning(measured(take.sound.samples, rate_hz).warnings, WarningCode::loud_background));
  const auto hum = steady_tone({.rate_hz = rate_hz,
                                .duration_s = static_cast<double>(take.sound.samples.size()) / rate_hz,
                                .f0_hz = 100.0,
                                .harmonic_amplitudes = {0.05}});
  for (std::size_t i = 0; i < hum.size(); ++i) take.sound.samples[i] += hum[i];
  EXPECT_TRUE(find_warning(measured(take.sound.samples, rate_hz).warnings, WarningCode::loud_background));
}

TEST(VoiceFilter, IsSaidWhereItTurnsHeldNotesDown) {
  test::PlayedTake take = test::steps_take({74, 79, 83, 86}, 8);
  const double rate_hz = take.sound.rate_hz;
  EXPECT_FALSE(find_warning(measured(take.sound.samples, rate_hz).warnings, WarningCode::voice_filter));
  for (const TrueHold& hold : take.sound.holds) {  // half a second into each note it takes the tone for noise
    const auto from = static_cast<std::size_t>((hold.start_s + 0.5) * rate_hz);
    const auto to = static_cast<std::size_t>(hold.end_s * rate_hz);
    for (std::size_t i = from; i < to; ++i) take.sound.samples[i] *= 0.05F;
  }
  const Measurement filtered = measured(take.sound.samples, rate_hz);
  const Warning* warning = find_warning(filtered.warnings, WarningCode::voice_filter);
  ASSERT_TRUE(warning);
  EXPECT_NE(warning->message.find("Switch off voice filters"), std::string::npos) << warning->message;
}

}  // namespace
}  // namespace windway
