// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <algorithm>

#include "cli/run_program.hpp"
#include "cli/takes.hpp"
#include "report/wording/layout.hpp"

namespace windway::cli_tests {
namespace {

struct Mistake {
  std::vector<std::string> arguments;
  std::string said;  ///< part of what must be said
};

/// Mistakes that show without any recording being there.
const std::vector<Mistake>& mistakes() {
  static const std::vector<Mistake> all{
      {{}, "which recording?"},
      {{"a.wav", "--a4", "0"}, "--a4: '0' is out of range; give 300 to 600 Hz"},
      {{"a.wav", "--a4", "nan"}, "--a4: 'nan' is out of range"},
      {{"a.wav", "--a4", "inf"}, "--a4: 'inf' is out of range"},
      {{"a.wav", "--a4", "-440"}, "--a4: '-440' is out of range"},
      {{"a.wav", "--a4", "440,5"}, "write decimals after a point"},
      {{"a.wav", "--a4", "concert"}, "'concert' is not a number"},
      {{"a.wav", "--a4", ""}, "'' is not a number"},
      {{"a.wav", "--a4"}, "--a4 needs a value"},
      {{"a.wav", "--a4", "440", "--a4", "442"}, "--a4 is given more than once"},
      {{"a.wav", "--min-hold", "-1"}, "--min-hold: '-1' is out of range; give 0.05 to 10 seconds"},
      {{"a.wav", "--min-hold=0"}, "--min-hold: '0' is out of range"},
      {{"a.wav", "--bore-temp", "100"}, "--bore-temp: '100' is out of range"},
      {{"a.wav", "--travel", "0"}, "--travel: '0' is out of range"},
      {{"a.wav", "--head-out", "-1"}, "--head-out: '-1' is out of range"},
      {{"a.wav", "--kind", "flute"}, "'flute' is none of whistle or recorder"},
      {{"a.wav", "--format", "xml"}, "'xml' is none of text, csv, json, html or svg"},
      {{"a.wav", "--note-names", "french"}, "'french' is none of english or german"},
      {{"a.wav", "--blown", "soft,loud"}, "'loud' is none of soft, moderate or hard"},
      {{"a.wav", "--lowest", "X"}, "X"},
      {{"a.wav", "--lowest", ""}, "--lowest: '' names no note"},
      {{"a.wav", "--lowest", "H"}, "german"},
      {{"a.wav", "--headout", "1"}, "unknown option --headout; did you mean --head-out?"},
      {{"a.wav", "--loudness"}, "unknown option --loudness; all options: windway measure --help"},
      {{"a.wav", "--fully-in", "--head-out", "2"}, "contradict each other"},
      {{"a.wav", "--fixed-head", "--travel", "5"}, "--fixed-head says that the head does not move"},
      {{"a.wav", "--fixed-head", "--fully-in"}, "--fixed-head says that the head does not move"},
      {{"a.wav", "--head-out", "6", "--travel", "5"}, "--head-out is more than --travel"},
      {{"a.wav", "--head-out", "2,5"}, "2 places for 1 take: give one place for all, or one for each take"},
      {{"a.wav", "b.wav", "--head-out", "0", "--head-out", "2", "--head-out", "4"}, "3 places for 2 takes"},
      {{"a.wav", "b.wav", "--head-out", "0,2", "--fully-in"}, "contradict each other"},
      {{"a.wav", "b.wav", "--head-out", "0,2", "--fixed-head"}, "--fixed-head says that the head does not move"},
      {{"a.wav", "b.wav", "--head-out", "0,6", "--travel", "5"}, "--head-out is more than --travel"},
      {{"a.wav", "b.wav", "--head-out", "0,x"}, "'x' is not a number"},
      {{"--soft", "a.wav", "--hard", "b.wav", "--head-out", "0,2"}, "need one place of the head"},
      {{"--soft", "a.wav", "--blown", "soft,hard"}, "give one or the other"},
      {{"b.wav", "--soft", "a.wav"}, "say it of every take, or of none"},
      {{"a.wav", "a.wav"}, "the same recording is given twice: a.wav"},
      {{"--soft", "a.wav", "--hard", "a.wav"}, "the same recording is given twice: a.wav"},
      {{"a.wav", "--output", ""}, "--output needs the name of a file"},
      {{"a.wav", "--output", "a.wav"}, "--output would overwrite a.wav, which this run reads"},
  };
  return all;
}

TEST(Options, RefuseEveryMistakeInOneLineOnStandardError) {
  for (const Mistake& mistake : mistakes()) {
    std::vector<std::string> arguments{"measure"};
    arguments.insert(arguments.end(), mistake.arguments.begin(), mistake.arguments.end());
    const ProgramRun run = run_windway(arguments);
    EXPECT_EQ(run.exit_status, 2) << mistake.said;
    EXPECT_EQ(run.out, "") << mistake.said;
    EXPECT_NE(run.err.find(mistake.said), std::string::npos) << mistake.said << "\nbut: " << run.err;
    EXPECT_EQ(std::count(run.err.begin(), run.err.end(), '\n'), 1) << run.err;
    EXPECT_TRUE(run.err.starts_with("windway: ")) << run.err;
    EXPECT_TRUE(fits(run.raw_err, text_columns)) << run.raw_err;
  }
}

/// What is typed, in which command, and what is suggested for it.
struct Guess {
  std::string command;
  std::string typed;
  std::string meant;
};

TEST(Options, SuggestWhatIsNearestInSpellingOrMeaning) {
  const std::vector<Guess> guesses{
      {"measure", "--temprament", "--temperament"},
      {"measure", "--a-4", "--a4"},
      {"measure", "--a5", "--a4"},
      {"measure", "--kidn", "--kind"},
      {"measure", "--head_out", "--head-out"},
      {"measure", "--fulyin", "--fully-in"},
      {"measure", "--pitch", "--a4"},
      {"measure", "--tuning", "--a4"},
      {"measure", "--reference", "--a4"},
      {"measure", "--temp", "--bore-temp"},
      {"measure", "--temperature", "--bore-temp"},
      {"measure", "--speed", "--bore-temp"},
      {"measure", "--out", "--output"},
      {"measure", "-o", "--output"},
      {"measure", "--json", "--format json"},
      {"measure", "--whistle", "--kind whistle"},
      {"measure", "--slide", "--head-out"},
      {"measure", "--german", "--note-names german"},
      {"measure", "--tonic", "--lowest"},
      {"protocol", "--key", "--lowest"},
      {"drone", "--duration", "--seconds"},
      {"drone", "--kez", "--key"},
      {"batch", "--threads", "--jobs"},
      {"batch", "--xml", "--format junit"},
      {"batch", "--serial", "--serial-from"},
      {"batch", "--tolerence", "--tolerance"},
      {"summary", "--by", "--group-by"},
      {"history", "--result", "--results"},
      {"compare", "--same", "--same-setting"},
      {"check", "--before", "--after"},
      {"playing", "--scale-take", "--against"},
      {"instruments", "--force", "--replace"},
  };
  for (const auto& [command, typed, meant] : guesses) {
    const ProgramRun run = run_windway({command, "a.wav", typed, "1"});
    EXPECT_EQ(run.exit_status, 2) << typed;
    EXPECT_EQ(run.out, "") << typed;
    EXPECT_EQ(run.raw_err, "windway: unknown option " + typed + "; did you mean " + meant + "?\n");
  }
}

TEST(Options, RefuseAWordTooMany) {
  EXPECT_EQ(run_windway({"protocol", "treble"}).raw_err,
            "windway: 'treble' is one word too many; all options: windway protocol --help\n");
}

TEST(Options, SuggestNothingFarOff) {
  for (const char* typed : {"--loudness", "--hat", "--zz", "--colour", "--for", "--x", "--debug"}) {
    const ProgramRun run = run_windway({"measure", "a.wav", typed});
    EXPECT_EQ(run.raw_err, std::string("windway: unknown option ") + typed + "; all options: windway measure --help\n");
  }
}

TEST(Options, TakeSeveralPlacesOfTheHeadForMeasureAlone) {
  const ScratchFolder folder;
  write_one_note_take(folder.path("a.wav"));
  write_one_note_take(folder.path("b.wav"));
  const std::string take = folder.path("a.wav"), other = folder.path("b.wav");
  for (const std::vector<std::string>& call :
       {std::vector<std::string>{"check", take, "--after", other}, {"compare", take, other}, {"batch", take}}) {
    std::vector<std::string> words = call;
    words.insert(words.end(), {"--head-out", "2,5"});
    const ProgramRun run = run_windway(words);
    EXPECT_EQ(run.exit_status, 2) << call.front();
    EXPECT_NE(run.err.find("--head-out takes one place here, with a decimal point"), std::string::npos) << run.err;
  }
}

TEST(Options, KnowAFileByWhatItIsAndNotByItsName) {
  const ScratchFolder folder;
  write_one_note_take(folder.path("a.wav"));
  const ProgramRun twice = run_windway({"measure", folder.path("a.wav"), folder.path("./a.wav")});
  EXPECT_EQ(twice.exit_status, 2);
  const ProgramRun over = run_windway({"measure", folder.path("a.wav"), "--output", folder.path("./a.wav")});
  EXPECT_EQ(over.exit_status, 2);
  EXPECT_NE(over.err.find("overwrite"), std::string::npos);
}

TEST(Options, RefuseALowestNoteInTheWrongOctave) {
  const ScratchFolder folder;
  write_scale_take(folder.path("a.wav"));
  const ProgramRun run = run_windway({"measure", folder.path("a.wav"), "--kind", "whistle", "--lowest", "D3"});
  EXPECT_EQ(run.exit_status, 2) << run.err;
  EXPECT_EQ(run.out, "");
  EXPECT_NE(run.err.find("octave"), std::string::npos) << run.err;
}

}  // namespace
}  // namespace windway::cli_tests
