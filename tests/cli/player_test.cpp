// SPDX-License-Identifier: GPL-3.0-or-later
// The commands beside measure: instruments, protocol, check, compare.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "cli/run_program.hpp"
#include "cli/takes.hpp"
#include "support/text.hpp"

namespace windway::cli_tests {
namespace {

class Player : public testing::Test {
 protected:
  ScratchFolder folder_;
  std::string take() const { return WINDWAY_SAMPLES_DIR "/takes/hw-0412-steps.flac"; }
  std::string moved_take() const { return WINDWAY_SAMPLES_DIR "/takes/hw-0412-drawn-out.flac"; }
  std::string saved() const {
    std::string path = folder_.path("before.json");
    const ProgramRun run = run_windway(
        {"measure", take(), "--instrument", "D whistle", "--fully-in", "--format", "json", "--output", path});
    EXPECT_EQ(run.exit_status, 0) << run.err;
    return path;
  }
};

TEST_F(Player, ListsInstrumentsAndKnowsTheirNames) {
  const ProgramRun list = run_windway({"instruments"});
  EXPECT_EQ(list.exit_status, 0);
  EXPECT_TRUE(has(list.out, "low D whistle"));
  EXPECT_EQ(run_windway({"instruments", "list"}).out, list.out);
  const ProgramRun shown = run_windway({"instruments", "show", "treble"});
  EXPECT_TRUE(has(shown.out, "lowest = \"F4\"")) << shown.out;
  const ProgramRun unknown = run_windway({"instruments", "show", "oboe"});
  EXPECT_EQ(unknown.exit_status, 2);
  EXPECT_TRUE(has(unknown.err, "windway instruments list"));
}

TEST_F(Player, WritesAnInstrumentFileThatMeasureTakes) {
  const std::string file = folder_.path("mine.toml");
  EXPECT_EQ(run_windway({"instruments", "write", file, "--from", take()}).exit_status, 0);
  EXPECT_TRUE(has(read_file(file), "lowest = \"D5\""));
  EXPECT_TRUE(has(read_file(file), "# Heard: D5, E5"));
  EXPECT_EQ(run_windway({"instruments", "write", file, "--from", take()}).exit_status, 2);  // it is there already
  EXPECT_EQ(run_windway({"instruments", "write", file, "--from", "D whistle", "--replace"}).exit_status, 0);
  EXPECT_TRUE(has(run_windway({"instruments", "check", file}).out, "has no mistakes"));
  write_file(file, read_file(file) + "travel_mm = 1.5\n");  // the file ends in [head]
  const ProgramRun measured = run_windway({"measure", take(), "--instrument", file, "--fully-in"});
  EXPECT_EQ(measured.exit_status, 0) << measured.err;
  EXPECT_TRUE(has(measured.out, "reaches from")) << measured.out;
  write_file(file, "kind = \"whistle\"\nlowest = \"D5\"\nnotees = 3\na4_hz = 4\n");
  const ProgramRun wrong = run_windway({"instruments", "check", file});
  EXPECT_EQ(wrong.exit_status, 2);
  EXPECT_TRUE(has(wrong.err, "mine.toml, line 3, notees")) << wrong.err;
  EXPECT_TRUE(has(wrong.err, "did you mean notes?") && has(wrong.err, "mine.toml, line 4, a4_hz")) << wrong.err;
  EXPECT_EQ(run_windway({"instruments", "list", "--from", "D whistle"}).exit_status, 2);
  EXPECT_EQ(run_windway({"measure", take(), "--instrument", file}).exit_status, 2);
}

TEST_F(Player, SaysWhatToPlayAndTakesTheOrderBack) {
  const ProgramRun protocol = run_windway({"protocol", "--instrument", "D whistle"});
  EXPECT_EQ(protocol.exit_status, 0);
  EXPECT_TRUE(has(protocol.out, "--instrument 'D whistle' \\\n"));
  const std::size_t order = protocol.out.find("--order '") + 9;  // taken as it is printed, over its lines
  const std::string printed = protocol.out.substr(order, protocol.out.find('\'', order) - order);
  EXPECT_TRUE(has(printed, "D5 E5")) << printed;
  EXPECT_EQ(run_windway({"measure", take(), "--instrument", "D whistle", "--order", printed}).exit_status, 0);
  EXPECT_EQ(run_windway({"protocol"}).exit_status, 2);
  const ProgramRun measured = run_windway(
      {"measure", take(), "--instrument", "D whistle", "--order", "D5 E5 F#5 G5 A5 B5 C#6 D6 E6 F#6 G6 A6 B6 C7"});
  EXPECT_EQ(measured.exit_status, 0) << measured.err;
  EXPECT_TRUE(has(unbroken(measured.out), "C7 is in --order but was not heard")) << measured.out;
  EXPECT_EQ(run_windway({"measure", take(), "--order", "D E"}).exit_status, 2);
}

TEST_F(Player, ChecksTheHeadByTheEarlierTake) {
  const ProgramRun check = run_windway({"check", moved_take(), "--after", saved()});
  EXPECT_EQ(check.exit_status, 0) << check.err;
  EXPECT_TRUE(check.out.starts_with("Set:")) << check.out;
  const ProgramRun unmoved = run_windway({"check", take(), "--after", saved(), "--tolerance", "3"});
  EXPECT_EQ(unmoved.exit_status, 1);
  EXPECT_TRUE(has(unbroken(unmoved.out), "draw the head out another 1.2")) << unmoved.out;
  const ProgramRun json = run_windway({"check", moved_take(), "--after", take(), "--format", "json"});
  EXPECT_TRUE(has(json.out, "\"windway.check.v1\""));
  EXPECT_EQ(run_windway({"check", moved_take()}).exit_status, 2);
  EXPECT_EQ(run_windway({"check", moved_take(), "--after", folder_.path("none.json")}).exit_status, 3);
}

TEST_F(Player, ChecksAgainstWhatTheCallSaysOfThePitchAndRefusesWhatItCannotKnow) {
  const std::string before = saved();
  EXPECT_TRUE(run_windway({"check", moved_take(), "--after", before}).out.starts_with("Set:"));
  // A partner 9 cents flat: the head has to come out farther, as if the take had been measured against it.
  const ProgramRun flat = run_windway({"check", moved_take(), "--after", before, "--a4", "437.72"});
  EXPECT_FALSE(flat.out.starts_with("Set:")) << flat.out;
  EXPECT_TRUE(has(unbroken(flat.out), "draw the head out another")) << flat.out;
  const ProgramRun by_take = run_windway(
      {"check", moved_take(), "--after", take(), "--instrument", "D whistle", "--fully-in", "--a4", "437.72"});
  EXPECT_EQ(flat.out, by_take.out);
  const ProgramRun just = run_windway({"check", moved_take(), "--after", before, "--temperament", "just"});
  EXPECT_NE(just.out, run_windway({"check", moved_take(), "--after", before}).out);
  // Colder by three degrees than in the earlier take: it reads 9 cents lower than it will when warm.
  const ProgramRun colder = run_windway({"check", moved_take(), "--after", before, "--bore-temp", "22"});
  EXPECT_TRUE(has(unbroken(colder.out), "sharper than they should be")) << colder.out;
  const std::vector<std::vector<std::string>> contradictions{
      {"--instrument", "C whistle"}, {"--lowest", "C"},   {"--lowest", "D4"},   {"--kind", "recorder"},
      {"--quote-at", "20"},          {"--head-out", "3"}, {"--scale", "D5 E5"}, {"--fixed-head"}};
  for (const auto& words : contradictions) {
    std::vector<std::string> call{"check", moved_take(), "--after", before};
    call.insert(call.end(), words.begin(), words.end());
    const ProgramRun run = run_windway(call);
    EXPECT_EQ(run.exit_status, 2) << words[0];
    EXPECT_TRUE(has(run.err, "contradicts the saved result")) << run.err;
  }
  EXPECT_EQ(
      run_windway({"check", moved_take(), "--after", before, "--instrument", "D whistle", "--fully-in"}).exit_status,
      0);
}

TEST_F(Player, IsSurerOfAFurtherMoveWhereTheFluteWasWarm) {
  const std::vector<std::string> cold{"playing", moved_take(), "--against", take(), "--format", "json"};
  std::vector<std::string> warm = cold;
  warm.push_back("--warm");
  const auto slide_u95_mm = [](const std::vector<std::string>& call) {
    return nlohmann::json::parse(run_windway(call).out).at("further_move").at("slide_u95_mm").get<double>();
  };
  EXPECT_LT(slide_u95_mm(warm), 0.8 * slide_u95_mm(cold));
}

TEST_F(Player, NamesACheckNoteThatIsFingeredWrongAndMovesNoHead) {
  const std::string wrong = folder_.path("f-natural.flac");
  ASSERT_EQ(run_windway({"drone", "F5", "--seconds", "3", "--output", wrong}).exit_status, 0);
  const ProgramRun check = run_windway({"check", wrong, "--after", saved()});
  EXPECT_EQ(check.exit_status, 3) << check.out;
  EXPECT_TRUE(has(check.err, "F5")) << check.err;
  EXPECT_TRUE(check.out.empty()) << check.out;
}

TEST_F(Player, ComparesTwoTakesOrWhatWasSavedOfThem) {
  const ProgramRun compared = run_windway({"compare", saved(), moved_take(), "--drawn-out", "1.3"});
  EXPECT_EQ(compared.exit_status, 0) << compared.err;
  EXPECT_TRUE(has(compared.out, "The whole scale has fallen")) << compared.out;
  EXPECT_TRUE(has(unbroken(compared.out), "times as much as the length of the tube predicts"));
  EXPECT_TRUE(has(run_windway({"compare", take(), saved(), "--format", "csv"}).out, "note,midi,is_real,before_cents"));
  EXPECT_TRUE(
      has(run_windway({"compare", moved_take(), saved(), "--format", "json", "--same-setting"}).out, "note_sd_cents"));
  EXPECT_TRUE(has(run_windway({"compare", take(), saved()}).out, "both are the same recording"));
  EXPECT_EQ(run_windway({"compare", take()}).exit_status, 2);
  EXPECT_EQ(run_windway({"compare", take(), saved(), "--drawn-out", "1", "--pushed-in", "1"}).exit_status, 2);
  EXPECT_EQ(run_windway({"compare", take(), saved(), "--drawn-out", "1", "--same-setting"}).exit_status, 2);
  write_file(folder_.path("broken.json"), "{\"schema\": ");
  EXPECT_EQ(run_windway({"compare", take(), folder_.path("broken.json")}).exit_status, 3);
}

TEST_F(Player, SaysTemperamentAndAirAsAsked) {
  const ProgramRun just = run_windway({"measure", take(), "--temperament", "just", "--key", "G"});
  EXPECT_TRUE(has(just.out, "just on G")) << just.out;
  EXPECT_EQ(run_windway({"measure", take(), "--key", "G"}).exit_status, 2);
  EXPECT_EQ(run_windway({"measure", take(), "--temperament", "well"}).exit_status, 2);
  const ProgramRun quoted = run_windway({"measure", take(), "--quote-at", "20", "--humidity", "100", "--co2", "1"});
  EXPECT_TRUE(has(quoted.out, "given for a bore at 20 degrees C")) << quoted.out;
  EXPECT_EQ(run_windway({"measure", take(), "--humidity", "120"}).exit_status, 2);
  EXPECT_EQ(run_windway({"measure", take(), "--instrument", "D whistle", "--lowest", "D5"}).exit_status, 2);
  EXPECT_EQ(run_windway({"measure", take(), "--scale", "D5 E5 F#5 G5 A5 B5 C#6 D6 E6 F#6 G6 A6 B6"}).exit_status, 0);
  EXPECT_EQ(run_windway({"measure", take(), "--scale", "E5 D5"}).exit_status, 2);
}

TEST_F(Player, WritesADroneThatMeasureReads) {
  const std::string drone = folder_.path("d5.flac");
  const ProgramRun run = run_windway(
      {"drone", "D5", "--a4", "441.3", "--temperament", "just", "--key", "D", "--seconds", "3", "--output", drone});
  EXPECT_EQ(run.exit_status, 0) << run.err;
  EXPECT_TRUE(has(run.out, "you are sharp"));
  // Just, D lies a fifth of 701.955 cents under A: 441.3 Hz * 4 / 3.
  EXPECT_TRUE(has(run.out, "588.400 Hz")) << run.out;
  const ProgramRun measured =
      run_windway({"measure", drone, "--a4", "441.3", "--temperament", "just", "--kind", "whistle", "--lowest", "D5"});
  EXPECT_TRUE(has(measured.out, "right in tune")) << measured.out;
  const std::vector<std::vector<std::string>> wrong{{"drone", "--output", drone},
                                                    {"drone", "D", "--output", drone},
                                                    {"drone", "D5"},
                                                    {"drone", "D5", "--output", folder_.path("d5.mp3")},
                                                    {"drone", "D5", "--temperament", "just", "--output", drone},
                                                    {"drone", "D5", "--seconds", "0", "--output", drone}};
  for (const auto& words : wrong) EXPECT_EQ(run_windway(words).exit_status, 2) << words.back();
  EXPECT_EQ(run_windway({"drone", "D5", "--output", "/no/such/folder/d5.wav"}).exit_status, 4);
  EXPECT_EQ(folder_.contents(), std::vector<std::string>{"d5.flac"});
}

TEST_F(Player, OverwritesNothingThatIsRead) {
  const std::string before = saved();
  const std::string bytes = read_file(before);
  const std::vector<std::vector<std::string>> calls{{"check", moved_take(), "--after", before, "--output", before},
                                                    {"compare", before, moved_take(), "--output", before},
                                                    {"measure", take(), "--partner", before, "--output", before},
                                                    {"measure", take(), "--weights-from", before, "--output", before},
                                                    {"playing", take(), "--against", before, "--output", before}};
  for (const auto& call : calls) {
    const ProgramRun run = run_windway(call);
    EXPECT_EQ(run.exit_status, 2) << call.front();
    EXPECT_TRUE(has(run.err, "--output would overwrite")) << run.err;
    EXPECT_EQ(read_file(before), bytes) << call.front();
  }
}

}  // namespace
}  // namespace windway::cli_tests
