// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/run_program.hpp"
#include "instrument/note.hpp"
#include "support/noise.hpp"
#include "support/sound_file.hpp"
#include "support/struck_strings.hpp"
#include "support/text.hpp"
#include "support/tones.hpp"

namespace windway::cli_tests {
namespace {

constexpr double rate_hz = 48000.0;

/// An invented piano: A4, D5, E5 and A5, one after the other.
void write_piano(const std::string& path, double a4_hz) {
  std::vector<synthesis::StruckNote> notes;
  for (const int midi : {69, 74, 76, 81}) {
    synthesis::StruckNote note;
    note.start_s = 0.4 + 2.4 * static_cast<double>(notes.size());
    note.first_hz = equal_tempered_hz(midi, a4_hz);
    notes.push_back(note);
  }
  synthesis::Random random(1);
  synthesis::write_sound(path, synthesis::struck_strings(notes, 10.0, rate_hz, -60.0, random), rate_hz);
}

TEST(PartnerCommand, SaysWhichA4ThePartnerPlays) {
  const ScratchFolder folder;
  write_piano(folder.path("piano.wav"), 441.3);
  const ProgramRun run = run_windway({"partner", folder.path("piano.wav")});
  EXPECT_EQ(run.exit_status, 0) << run.err;
  EXPECT_EQ(run.err, "");
  EXPECT_TRUE(run.out.starts_with("The partner plays at A4 = 441.")) << run.out;
}

TEST(PartnerCommand, WritesJsonAndCsvWhereItIsTold) {
  const ScratchFolder folder;
  write_piano(folder.path("piano.wav"), 441.3);
  const std::string out = folder.path("partner.json");
  EXPECT_EQ(run_windway({"partner", folder.path("piano.wav"), "--format", "json", "--output", out}).exit_status, 0);
  const auto json = nlohmann::json::parse(read_file(out));
  EXPECT_NEAR(json["a4_hz"].get<double>(), 441.3, 0.1);
  EXPECT_EQ(json["notes"].size(), 4U);
  const ProgramRun csv = run_windway({"partner", folder.path("piano.wav"), "--format", "csv"});
  EXPECT_TRUE(csv.out.starts_with("note,midi,frequency_hz,")) << csv.out;
}

TEST(PartnerCommand, TakesTheGuessOfA4AndTheFlute) {
  const ScratchFolder folder;
  write_piano(folder.path("spinet.wav"), 415.6);
  const ProgramRun run = run_windway({"partner", folder.path("spinet.wav"), "--a4", "415", "--kind", "recorder",
                                      "--lowest", "C5", "--format", "json"});
  ASSERT_EQ(run.exit_status, 0) << run.err;
  const auto json = nlohmann::json::parse(run.out);
  EXPECT_NEAR(json["a4_hz"].get<double>(), 415.6, 0.1);
  EXPECT_EQ(json["range"]["lowest_midi"], 72);
  EXPECT_EQ(json["notes"][0]["counts"], false);
}

/// Standard error says it with the recording's name, standard output nothing.
void expect_no_number(const std::string& path, const std::string& remedy) {
  const ProgramRun run = run_windway({"partner", path});
  EXPECT_EQ(run.exit_status, 3) << run.out;
  EXPECT_EQ(run.out, "");
  EXPECT_TRUE(has(run.err, path)) << run.err;
  EXPECT_TRUE(has(run.err, remedy)) << run.err;
}

TEST(PartnerCommand, NeverGivesANumberWithoutANote) {
  const ScratchFolder folder;
  synthesis::Random random(2);
  const std::string path = folder.path("nothing.wav");
  synthesis::write_sound(path, synthesis::silence(rate_hz, 2.0), rate_hz);
  expect_no_number(path, "nearer");
  synthesis::write_sound(path, synthesis::to_float(synthesis::white_noise(96000, 0.1, random)), rate_hz);
  expect_no_number(path, "single notes");
  synthesis::write_sound(path, synthesis::to_float(synthesis::babble(8.0, rate_hz, random)), rate_hz);
  expect_no_number(path, "single notes");
  expect_no_number(folder.path("missing.wav"), "no such file");
}

TEST(PartnerCommand, RefusesMistakesInWords) {
  const auto refused = [](const std::vector<std::string>& arguments, const std::string& said) {
    const ProgramRun run = run_windway(arguments);
    EXPECT_EQ(run.exit_status, 2) << run.err;
    EXPECT_TRUE(has(run.err, said)) << run.err;
  };
  refused({"partner"}, "which recording?");
  refused({"partner", "a.wav", "b.wav"}, "one recording");
  refused({"partner", "a.wav", "--a4", "44"}, "out of range");
  refused({"partner", "a.wav", "--key", "D"}, "--temperament");
  refused({"partner", "a.wav", "--temperament", "odd"}, "none of");
  refused({"partner", "a.wav", "--temperament", "just"}, "--key");
}

TEST(PartnerCommand, HelpSaysWhatToPlay) {
  const ProgramRun run = run_windway({"partner", "--help"});
  EXPECT_EQ(run.exit_status, 0);
  EXPECT_TRUE(has(run.out, "three or four single notes"));
  for (const char* option : {"--a4", "--temperament", "--key", "--lowest", "--format", "--output"})
    EXPECT_TRUE(has(run.out, option)) << option;
}

}  // namespace
}  // namespace windway::cli_tests
