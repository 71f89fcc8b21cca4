// SPDX-License-Identifier: GPL-3.0-or-later
// Another's instrument, retuned by known steps: FluidSynth (Debian fluidsynth) with the recorders of TimGM6mb.sf2
// (Debian timgm6mb-soundfont) and FluidR3_GM.sf2 (Debian fluid-soundfont-gm, recorded recorders). What a soundfont's
// keys should sound, nobody has promised: only differences are asserted.
#include "external/soundfont.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "cli/run_program.hpp"
#include "external/holds_of_file.hpp"
#include "external/required.hpp"
#include "holds/source.hpp"
#include "units/units.hpp"

namespace windway::external_tests {
namespace {

const std::vector<TunedKey> as_it_is{{74}, {76}, {78}, {79}, {81}, {83}, {85}, {86}};  // D5 to D6
const std::vector<TunedKey> retuned{{74, 7}, {76, -12}, {78, 23}, {79, -3}, {81, 31}, {83, -26}, {85, 1}, {86, -41}};

/// windway's holds of the keys as FluidSynth plays them; empty where there is no FluidSynth.
std::optional<std::vector<Hold>> holds_of(const std::string& font, const std::vector<TunedKey>& keys,
                                          int program = recorder_program) {
  const cli_tests::ScratchFolder folder;
  cli_tests::write_file(folder.path("scale.mid"), midi_file(keys, program));
  if (!play_soundfont(font, folder.path("scale.mid"), folder.path("scale.wav"))) return std::nullopt;
  return holds_of_file(folder.path("scale.wav"));
}

void expect_known_differences(const std::string& name, double tolerance_cents) {
  const std::string font = folder_of_fonts + name;
  WINDWAY_NEEDS(std::filesystem::exists(font), name);
  const auto before = holds_of(font, as_it_is);
  const auto after = holds_of(font, retuned);
  WINDWAY_NEEDS(before && after, "FluidSynth");
  ASSERT_EQ(before->size(), as_it_is.size());
  ASSERT_EQ(after->size(), retuned.size());
  double largest_cents = 0;
  for (std::size_t i = 0; i < retuned.size(); ++i) {
    const double cents = cents_between((*before)[i].frequency_hz, (*after)[i].frequency_hz);
    EXPECT_NEAR(cents, retuned[i].offset_cents, tolerance_cents) << "key " << retuned[i].key;
    largest_cents = std::max(largest_cents, std::abs(cents - retuned[i].offset_cents));
  }
  testing::Test::RecordProperty("largest_cents", std::to_string(largest_cents));
}

TEST(Soundfont, RetunedKeysOfTimGmDifferByWhatTheyWereRetuned) { expect_known_differences("TimGM6mb.sf2", 0.1); }

TEST(Soundfont, RetunedKeysOfRecordedRecordersDifferByWhatTheyWereRetuned) {
  expect_known_differences("FluidR3_GM.sf2", 1.5);
}

/// The warnings of a major scale over two octaves.
std::optional<Warnings> source_of(const std::string& name, int program, int lowest_key) {
  std::vector<TunedKey> keys;
  for (const int up : {0, 2, 4, 5, 7, 9, 11, 12, 14, 16, 17, 19, 21, 23, 24}) keys.push_back({lowest_key + up});
  const auto holds = holds_of(folder_of_fonts + name, keys, program);
  return holds ? std::optional(source_warnings(name, *holds)) : std::nullopt;
}

// Recorded flutes, recorders, shakuhachi, whistles and ocarinas; a sampled piano; an accordion, whose two reeds and
// many overtones no flute has.
TEST(Soundfont, BlownPipesAreTakenForOneFluteAndOthersAreNot) {
  WINDWAY_NEEDS(std::filesystem::exists(folder_of_fonts + "FluidR3_GM.sf2"), "FluidR3_GM.sf2");
  for (const int program : {flute_program, recorder_program, 77, 78, 79})
    for (const int lowest_key : {60, 72}) {
      const auto warnings = source_of("FluidR3_GM.sf2", program, lowest_key);
      WINDWAY_NEEDS(warnings, "FluidSynth");
      for (const Warning& warning : *warnings)  // keys of one sample stand on the grid of a machine
        EXPECT_EQ(warning.code, WarningCode::pitch_corrected) << program << " from " << lowest_key << warning.message;
    }
  EXPECT_TRUE(find_warning(*source_of("FluidR3_GM.sf2", grand_piano_program, 72), WarningCode::struck_string));
  EXPECT_TRUE(find_warning(*source_of("FluidR3_GM.sf2", accordion_program, 72), WarningCode::other_sound));
}

}  // namespace
}  // namespace windway::external_tests
