// SPDX-License-Identifier: GPL-3.0-or-later
// A second opinion on every hold: aubio (Debian libaubio-dev) and its "yinfast" after A. de Cheveigne and H. Kawahara,
// "YIN, a fundamental frequency estimator for speech and music", J. Acoust. Soc. Am. 111 (2002) 1917-1930.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "cli/run_program.hpp"
#include "external/aubio_pitch.hpp"
#include "external/holds_of_file.hpp"
#include "external/required.hpp"
#include "support/flute_model.hpp"
#include "support/plan.hpp"
#include "support/sound_file.hpp"
#include "support/take.hpp"
#include "units/units.hpp"

namespace windway::external_tests {
namespace {

constexpr double opinions_differ_cents = 2.0;

/// Median of aubio's frames that lie within the steady part; absent where none does.
std::optional<double> median_hz(const std::vector<AubioFrame>& frames, const Hold& hold) {
  std::vector<double> within_hz;
  for (const AubioFrame& frame : frames) {
    if (frame.start_s >= hold.steady_start_s && frame.end_s <= hold.steady_end_s) within_hz.push_back(frame.f0_hz);
  }
  if (within_hz.empty()) return std::nullopt;
  const auto middle = within_hz.begin() + static_cast<std::ptrdiff_t>(within_hz.size() / 2);
  std::nth_element(within_hz.begin(), middle, within_hz.end());
  return *middle;
}

void expect_agreement(const std::string& path, std::size_t holds_expected) {
  const auto frames = aubio_pitch(path);
  WINDWAY_NEEDS(frames, "aubio");
  const std::vector<Hold> holds = holds_of_file(path);
  EXPECT_EQ(holds.size(), holds_expected) << path;
  double largest_cents = 0;
  for (const Hold& hold : holds) {
    const auto aubio_hz = median_hz(*frames, hold);
    ASSERT_TRUE(aubio_hz) << path << " at " << hold.start_s << " s";
    const double off_cents = cents_between(*aubio_hz, hold.frequency_hz);
    EXPECT_NEAR(off_cents, 0.0, opinions_differ_cents)
        << path << " at " << hold.start_s << " s, " << hold.frequency_hz << " Hz";
    largest_cents = std::max(largest_cents, std::abs(off_cents));
  }
  testing::Test::RecordProperty("largest_cents", std::to_string(largest_cents));
}

struct Flute {
  Kind kind;
  int lowest_midi;
  unsigned seed;
};

/// The major scale over 21 semitones, every note soft, moderate and hard.
void expect_agreement_on_steps(const Flute& played) {
  synthesis::Random random(played.seed);
  const auto flute = synthesis::draw_flute({.kind = played.kind, .lowest_midi = played.lowest_midi}, random);
  const auto plan = synthesis::note_by_note(synthesis::major_scale(played.lowest_midi, 21),
                                            {Blow::soft, Blow::moderate, Blow::hard}, {}, {}, random);
  const auto take = synthesis::synthesise_take(flute, plan, {.rate_hz = 48000, .playing = {}, .chain = {}}, random);
  const cli_tests::ScratchFolder folder;
  synthesis::write_sound(folder.path("take.wav"), take.samples, take.rate_hz, 1, 24);
  expect_agreement(folder.path("take.wav"), plan.size());
}

TEST(SecondOpinion, AgreesOnEveryHoldOfAWhistleBlownInSteps) {
  expect_agreement_on_steps({Kind::whistle, 74, 11});  // in D, from D5
  expect_agreement_on_steps({Kind::whistle, 62, 12});  // low, from D4
}

TEST(SecondOpinion, AgreesOnEveryHoldOfARecorderBlownInSteps) {
  expect_agreement_on_steps({Kind::recorder, 72, 13});  // soprano, from C5
}

TEST(SecondOpinion, AgreesOnEveryHoldOfTheSamples) {
  // All but hw-0416-talk: of a file of two channels aubio 0.4.9, converting its rate, gives only the first half.
  for (const char* name :
       {"hw-0388-recorder", "hw-0405-swells", "hw-0412-drawn-out", "hw-0412-steps", "hw-0427-cold", "hw-0431-plain"}) {
    const std::string path = WINDWAY_SAMPLES_DIR "/takes/" + std::string(name);
    const auto truth = nlohmann::json::parse(cli_tests::read_file(path + ".truth.json"));
    expect_agreement(path + ".flac", truth.at("holds").size());
  }
}

}  // namespace
}  // namespace windway::external_tests
