// SPDX-License-Identifier: GPL-3.0-or-later
// Melodies of another's instruments, retuned by known steps: FluidSynth (Debian fluidsynth) with the flute, recorder
// and whistle of FluidR3_GM.sf2 (Debian fluid-soundfont-gm) and of TimGM6mb.sf2 (Debian timgm6mb-soundfont). What a
// soundfont's keys should sound, nobody has promised: only differences are asserted, and that no note is misnamed.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "cli/run_program.hpp"
#include "external/required.hpp"
#include "external/soundfont.hpp"
#include "playing/playing.hpp"
#include "support/plan.hpp"

namespace windway::external_tests {
namespace {

constexpr double melody_tolerance_cents = 1.0;

enum class Within { a_cent, its_u95 };
const std::vector<TunedKey> retuned{{74, 7},   {76, -12}, {78, 23}, {79, -3}, {81, 31},  {83, -26}, {85, 1},
                                    {86, -41}, {88, 13},  {90, -8}, {91, 19}, {93, -15}, {95, 5}};

/// A minute of the scale of D from D5: runs of 5 notes a second up and down, longer notes, a few repeated.
std::vector<PlayedKey> melody() {
  const std::vector<int> scale = synthesis::major_scale(74, 21);
  synthesis::Random random(12);
  std::vector<PlayedKey> notes;
  std::size_t place = 3;
  for (double length_s = 0; length_s < 60; length_s += notes.back().length_s + notes.back().rest_s) {
    const bool up = place == 0 || (place + 1 < scale.size() && random.chance(0.5));
    if (!random.chance(0.1)) place = up ? place + 1 : place - 1;
    notes.push_back({scale[place], random.chance(0.6) ? 0.2 : random.uniform(0.3, 0.9)});
    if (random.chance(0.3)) notes.back().rest_s = 0.05;
  }
  return notes;
}

std::optional<Playing> played(const std::string& font, int program, const std::vector<TunedKey>& tuning) {
  const cli_tests::ScratchFolder folder;
  cli_tests::write_file(folder.path("tune.mid"), midi_melody(program, tuning, melody()));
  const cli_tests::ProgramRun run = cli_tests::run_program({"fluidsynth", "-q",
                                                            "-n",         "-i",
                                                            "-f",         "/dev/null",
                                                            "-R",         "0",
                                                            "-C",         "0",
                                                            "-g",         "0.6",
                                                            "-r",         "48000",
                                                            "-T",         "wav",
                                                            "-O",         "s24",
                                                            "-o",         "synth.dynamic-sample-loading=1",
                                                            "-F",         folder.path("tune.wav"),
                                                            font,         folder.path("tune.mid")});
  if (run.exit_status == 127) return std::nullopt;
  EXPECT_EQ(run.exit_status, 0) << run.err;
  MeasureSettings settings;
  settings.instrument.instrument = builtin_instrument(Kind::whistle, 74);
  return measure_playing(folder.path("tune.wav"), settings, {});
}

void expect_known_differences(const std::string& name, int program, Within within = Within::a_cent) {
  const std::string font = "/usr/share/sounds/sf2/" + name;
  WINDWAY_NEEDS(std::filesystem::exists(font), name);
  const auto before = played(font, program, {});
  const auto after = played(font, program, retuned);
  WINDWAY_NEEDS(before && after, "FluidSynth");
  std::map<int, double> seconds;
  for (const PlayedKey& note : melody()) seconds[note.key] += note.length_s;
  for (const Playing& found : {*before, *after})
    for (const PlayedPitch& note : found.notes) EXPECT_TRUE(seconds.contains(note.midi)) << "invented " << note.midi;
  double largest_cents = 0;
  for (const TunedKey& key : retuned) {
    if (seconds[key.key] < 1.0) continue;
    const auto first = std::ranges::find(before->notes, key.key, &PlayedPitch::midi);
    const auto then = std::ranges::find(after->notes, key.key, &PlayedPitch::midi);
    ASSERT_TRUE(first != before->notes.end() && then != after->notes.end()) << "missed " << key.key;
    const double cents = then->median.cents - first->median.cents;
    const double tolerance =
        within == Within::a_cent ? melody_tolerance_cents : std::hypot(first->median.u95_cents, then->median.u95_cents);
    EXPECT_NEAR(cents, key.offset_cents, tolerance) << "key " << key.key;
    largest_cents = std::max(largest_cents, std::abs(cents - key.offset_cents));
  }
  testing::Test::RecordProperty("largest_cents", std::to_string(largest_cents));
}

TEST(SoundfontMelody, OfARecordedFlute) { expect_known_differences("FluidR3_GM.sf2", 73); }
TEST(SoundfontMelody, OfARecordedRecorder) { expect_known_differences("FluidR3_GM.sf2", 74); }
// The recorded whistle wanders over 60 cents from 0.2 to 1.3 s after its start, and a retuned key is played back faster
// or slower: what sounds in the middle of a short note is then another part of the wandering.
TEST(SoundfontMelody, OfARecordedWhistleThatWanders) {
  expect_known_differences("FluidR3_GM.sf2", 78, Within::its_u95);
}
TEST(SoundfontMelody, OfTimGmsRecorder) { expect_known_differences("TimGM6mb.sf2", 74); }

}  // namespace
}  // namespace windway::external_tests
