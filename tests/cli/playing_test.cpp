// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <string>

#include "cli/run_program.hpp"
#include "support/melodies.hpp"
#include "support/plan.hpp"
#include "support/sound_file.hpp"

namespace windway::cli_tests {
namespace {

using namespace synthesis;

/// A melody of 30 s, its upper octave blown hard, and the scale of the same flute.
class PlayingCommand : public testing::Test {
 protected:
  void SetUp() override {
    const RenderedMelody melody =
        play_melody({.kind = MelodyKind::ornaments, .duration_s = 30.0, .upper_doublings = 1.5}, 7);
    write_sound(folder_.path("tune.wav"), melody.sound.samples, melody.sound.rate_hz);
    Random random(5);
    const auto plan = note_by_note(major_scale(melody.flute.notes.front().midi, 19),
                                   {Blow::soft, Blow::moderate, Blow::hard}, {}, {}, random);
    const SyntheticTake scale = synthesise_take(melody.flute, plan, {}, random);
    write_sound(folder_.path("scale.wav"), scale.samples, scale.rate_hz);
  }
  ScratchFolder folder_;
};

TEST_F(PlayingCommand, SaysTheMoveAndTheSharpRegisterInOneSentenceThenTheTable) {
  const ProgramRun run =
      run_windway({"playing", folder_.path("tune.wav"), "--against", folder_.path("scale.wav"), "--head-out", "4"});
  ASSERT_EQ(run.exit_status, 0) << run.err;
  EXPECT_TRUE(run.out.starts_with("Draw the head out a further ")) << run.out;
  EXPECT_NE(unbroken(run.out).find("in playing the upper octave comes out "), std::string::npos) << run.out;
  EXPECT_NE(unbroken(run.out).find("On average you play "), std::string::npos) << run.out;
  EXPECT_NE(unbroken(run.out).find(" in the scale take."), std::string::npos) << run.out;
  const ProgramRun weighed =
      run_windway({"measure", folder_.path("scale.wav"), "--weights-from", folder_.path("tune.wav")});
  EXPECT_NE(unbroken(weighed.out).find("Each note counts by the time that it sounds in the melody: "),
            std::string::npos)
      << weighed.out;
  for (const char* column : {"note", "seconds", "median", "from take"})
    EXPECT_NE(run.out.find(column), std::string::npos) << column;
}

TEST_F(PlayingCommand, ASavedScaleTakeSaysTheSameAsItsRecording) {
  ASSERT_EQ(run_windway({"measure", folder_.path("scale.wav"), "--format", "json", "--output", folder_.path("s.json")})
                .exit_status,
            0);
  const auto call = [&](const std::string& take) {
    const ProgramRun run =
        run_windway({"playing", folder_.path("tune.wav"), "--against", folder_.path(take), "--format", "json"});
    EXPECT_EQ(run.exit_status, 0) << run.err;
    return nlohmann::json::parse(run.out);
  };
  const auto fresh = call("scale.wav"), saved = call("s.json");
  EXPECT_EQ(fresh["schema"], "windway.playing.v1");
  ASSERT_EQ(fresh["notes"].size(), saved["notes"].size());
  for (std::size_t i = 0; i < fresh["notes"].size(); ++i) {
    EXPECT_EQ(fresh["notes"][i]["note"], saved["notes"][i]["note"]);
    EXPECT_NEAR(fresh["notes"][i]["from_take_cents"].get<double>(), saved["notes"][i]["from_take_cents"].get<double>(),
                1e-4);
  }
  EXPECT_NEAR(fresh["further_move"]["slide_mm"].get<double>(), saved["further_move"]["slide_mm"].get<double>(), 1e-3);
}

TEST_F(PlayingCommand, GivesOneRowANoteAsCsv) {
  const ProgramRun run = run_windway({"playing", folder_.path("tune.wav"), "--format", "csv"});
  ASSERT_EQ(run.exit_status, 0) << run.err;
  EXPECT_TRUE(
      run.out.starts_with("note,midi,register,in_scale,target_hz,sounded_s,time_share,occurrences,median_cents"));
  EXPECT_EQ(run.err.find("error"), std::string::npos);
}

TEST_F(PlayingCommand, RefusesACallThatIsNone) {
  const std::string tune = folder_.path("tune.wav");
  EXPECT_EQ(run_windway({"playing"}).exit_status, 2);
  EXPECT_EQ(run_windway({"playing", tune, folder_.path("scale.wav")}).exit_status, 2);
  EXPECT_EQ(run_windway({"playing", tune, "--against", tune}).exit_status, 2);
  EXPECT_EQ(run_windway({"playing", tune, "--output", tune}).exit_status, 2);
  ASSERT_EQ(run_windway({"measure", folder_.path("scale.wav"), "--format", "json", "--output", folder_.path("s.json")})
                .exit_status,
            0);
  const ProgramRun other_pitch = run_windway({"playing", tune, "--against", folder_.path("s.json"), "--a4", "442"});
  EXPECT_EQ(other_pitch.exit_status, 0) << other_pitch.err;  // the saved targets are set anew for 442 Hz
  const ProgramRun other_flute =
      run_windway({"playing", tune, "--against", folder_.path("s.json"), "--kind", "recorder"});
  EXPECT_EQ(other_flute.exit_status, 2);
  EXPECT_NE(other_flute.err.find("contradicts the saved result"), std::string::npos) << other_flute.err;
}

TEST_F(PlayingCommand, SilenceIsAnErrorOfTheRecording) {
  write_sound(folder_.path("silence.wav"), std::vector<float>(240000, 0.0F), 24000.0);
  const ProgramRun run = run_windway({"playing", folder_.path("silence.wav")});
  EXPECT_EQ(run.exit_status, 3);
  EXPECT_TRUE(run.out.empty());
  EXPECT_NE(run.err.find("silent"), std::string::npos) << run.err;
}

}  // namespace
}  // namespace windway::cli_tests
