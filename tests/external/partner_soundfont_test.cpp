// SPDX-License-Identifier: GPL-3.0-or-later
// Others' instruments as partners: FluidSynth (Debian fluidsynth) with TimGM6mb.sf2 (Debian timgm6mb-soundfont) and
// FluidR3_GM.sf2 (Debian fluid-soundfont-gm, recorded instruments), retuned by known whole cents. What a soundfont's
// keys should sound, nobody has promised: differences are asserted, and that nothing is grossly wrong.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "cli/run_program.hpp"
#include "external/required.hpp"
#include "external/soundfont.hpp"
#include "partner/partner.hpp"
#include "units/units.hpp"

namespace windway::external_tests {
namespace {

const std::vector<int> keys{69, 72, 74, 76, 79, 81, 84, 86};  // A4 to D6

/// What windway says of the keys, all retuned alike, as FluidSynth plays them; empty where there is no FluidSynth.
std::optional<Partner> partner_of(const std::string& font, int program, int offset_cents) {
  const cli_tests::ScratchFolder folder;
  std::vector<TunedKey> tuned;
  for (const int key : keys) tuned.push_back({key, offset_cents});
  cli_tests::write_file(folder.path("keys.mid"), midi_file(tuned, program, true));
  if (!play_soundfont(folder_of_fonts + font, folder.path("keys.mid"), folder.path("keys.wav"))) return std::nullopt;
  return find_partner(folder.path("keys.wav"), {});
}

void expect_known_differences(const std::string& font, double tolerance_cents) {
  WINDWAY_NEEDS(std::filesystem::exists(folder_of_fonts + font), font);
  const auto before = partner_of(font, grand_piano_program, 0);
  WINDWAY_NEEDS(before, "FluidSynth");
  EXPECT_EQ(before->notes.size(), keys.size());
  double largest_cents = 0;
  for (const int offset_cents : {-31, -17, -5, 2, 8, 23}) {
    const auto after = partner_of(font, grand_piano_program, offset_cents);
    const double cents = cents_between(before->a4_hz, after->a4_hz);
    EXPECT_NEAR(cents, offset_cents, tolerance_cents);
    largest_cents = std::max(largest_cents, std::abs(cents - offset_cents));
  }
  testing::Test::RecordProperty("largest_cents", std::to_string(largest_cents));
}

TEST(PartnerSoundfont, RetunedPianoOfTimGmDiffersByWhatItWasRetuned) { expect_known_differences("TimGM6mb.sf2", 0.2); }

TEST(PartnerSoundfont, RetunedRecordedPianoDiffersByWhatItWasRetuned) {
  expect_known_differences("FluidR3_GM.sf2", 0.2);
}

/// Of an instrument that is in tune within some cents, as its makers meant it: no octave or semitone amiss, no note
/// missed by more than the makers did.
void expect_no_gross_error(const std::string& font, int program) {
  WINDWAY_NEEDS(std::filesystem::exists(folder_of_fonts + font), font);
  const auto partner = partner_of(font, program, 0);
  WINDWAY_NEEDS(partner, "FluidSynth");
  EXPECT_NEAR(partner->a4_hz, 440.0, 2.5) << font << " " << program;
  const auto counted = std::ranges::count_if(partner->notes, &PartnerNote::counts);
  EXPECT_GE(counted, 4) << font << " " << program;
}

// The organ of TimGM6mb.sf2 sounds an octave below its keys: four of them are below the range.
TEST(PartnerSoundfont, OrganIsHeardWithoutGrossError) {
  expect_no_gross_error("TimGM6mb.sf2", church_organ_program);
  expect_no_gross_error("FluidR3_GM.sf2", church_organ_program);
}

// The accordion of TimGM6mb.sf2 is half a semitone out of tune from E5 up; a long spectrum says the same.
TEST(PartnerSoundfont, AccordionIsHeardByTheMiddleOfItsReeds) {
  expect_no_gross_error("FluidR3_GM.sf2", accordion_program);
  const auto partner = partner_of("FluidR3_GM.sf2", accordion_program, 0);
  WINDWAY_NEEDS(partner, "FluidSynth");
  EXPECT_GE(std::ranges::count_if(partner->notes, [](const PartnerNote& note) { return note.beat_hz.has_value(); }), 4);
  for (const PartnerNote& note : partner->notes) EXPECT_LE(note.midi, keys.back()) << "a reed's partial";
}

TEST(PartnerSoundfont, FluteWithVibratoIsHeardWithoutGrossError) {
  expect_no_gross_error("TimGM6mb.sf2", flute_program);
  expect_no_gross_error("FluidR3_GM.sf2", flute_program);
}

}  // namespace
}  // namespace windway::external_tests
