// SPDX-License-Identifier: GPL-3.0-or-later
// No line of text for people is wider than 80 columns, of any command. (samples/evening's answers: evening_test.cpp.)
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>

#include "cli/run_program.hpp"
#include "cli/small_bench.hpp"
#include "report/wording/layout.hpp"
#include "support/text.hpp"

namespace windway::cli_tests {
namespace {

using Words = std::vector<std::string>;

/// A word, such as the path of a file, is as long as it is, and then stands alone on its line.
bool is_one_word(const std::string& line) {
  return line.find(' ', std::min(line.find_first_not_of(' '), line.size())) == std::string::npos;
}

/// Runs it and looks at every line on both streams.
ProgramRun run_narrow(const Words& words) {
  const ProgramRun run = run_windway(words);
  for (const std::string& text : {run.out, run.raw_err})
    for (const std::string& line : lines_of(text))
      EXPECT_TRUE(display_width(line) <= 80 || is_one_word(line)) << (words.empty() ? "windway" : words[0]) << ":\n"
                                                                  << line;
  return run;
}

void run_narrow_well(const Words& words) {
  const ProgramRun run = run_narrow(words);
  EXPECT_EQ(run.exit_status, 0) << run.err;
  EXPECT_NE(run.out, "");
}

std::string take(const std::string& name) { return WINDWAY_SAMPLES_DIR "/takes/" + name; }

TEST(Width, OfEveryHelpPageIsEighty) {
  run_narrow_well({});
  run_narrow_well({"--help"});
  for (const char* command : {"measure", "check", "compare", "partner", "playing", "drone", "protocol", "instruments",
                              "batch", "summary", "history"})
    run_narrow_well({command, "--help"});
}

TEST(Width, OfEveryMeasuredSampleIsEighty) {
  std::size_t takes = 0;
  for (const auto& entry : std::filesystem::directory_iterator(take(""))) {
    if (entry.path().extension() != ".flac") continue;
    const std::string path = entry.path();
    run_narrow({"measure", path, "--temperament", "meantone"});
    run_narrow({"measure", path, "--fully-in", "--note-names", "german", "--quote-at", "20", "--travel", "0.4"});
    run_narrow({"measure", path, "--fixed-head", "--a4", "415"});
    run_narrow({"playing", path});
    ++takes;
  }
  EXPECT_GT(takes, 5U);
  run_narrow_well({"measure", take("hw-0412-steps.flac"), take("hw-0416-talk.flac"), "--lowest", "D5"});
}

TEST(Width, OfAPlayersOtherAnswersIsEighty) {
  const ScratchFolder folder;
  const std::string before = take("hw-0412-steps.flac"), after = take("hw-0412-drawn-out.flac");
  run_narrow_well({"compare", before, after, "--drawn-out", "4", "--instrument", "D whistle"});
  run_narrow_well({"compare", before, take("hw-0416-talk.flac"), "--same-setting", "--instrument", "D whistle"});
  run_narrow({"check", after, "--after", before, "--fully-in", "--instrument", "D whistle"});
  run_narrow({"check", before, "--after", before, "--head-out", "3", "--travel", "3", "--instrument", "D whistle"});
  run_narrow_well({"drone", "D5", "--seconds", "0.5", "--output", folder.path("d.wav")});
  run_narrow({"partner", folder.path("d.wav")});
  run_narrow({"partner", before, "--temperament", "meantone", "--key", "F#"});
}

TEST(Width, OfEveryInstrumentAndItsProtocolIsEighty) {
  const ScratchFolder folder;
  run_narrow_well({"instruments"});
  for (const std::string name : {"D whistle", "low F whistle", "treble", "descant"}) {
    run_narrow_well({"instruments", "show", name});
    run_narrow_well({"protocol", "--instrument", name});
    run_narrow_well({"protocol", "--instrument", name, "--note-names", "german", "--up-only"});
  }
  const std::string file = folder.path("mine.toml");
  const std::string from = take("hw-0388-recorder.flac");
  run_narrow({"instruments", "write", file, "--from", from});
  for (const std::string& line : lines_of(read_file(file))) EXPECT_LE(display_width(line), 80U) << line;
  run_narrow_well({"instruments", "check", file});
}

TEST(Width, OfTheBenchIsEighty) {
  const ScratchFolder folder;
  const std::string results = folder.path("r.jsonl");
  run_narrow(whole_bench_call({"--results", results, "--group-by", "head", "--keeper", "HW-1003"}));
  run_narrow({"summary", results, "--group-by", "lot"});
  run_narrow({"history", "HW-1001", "--results", results});
}

/// What the program prints on a pseudo terminal of so many columns.
std::string on_a_terminal(int columns, const Words& words) {
  Words call{"python3", "-c",
             "import fcntl, os, pty, struct, subprocess, sys, termios\n"
             "ours, its = pty.openpty()\n"
             "fcntl.ioctl(its, termios.TIOCSWINSZ, struct.pack('4H', 24, int(sys.argv[1]), 0, 0))\n"
             "program = subprocess.Popen(sys.argv[2:], stdout=its)\n"
             "os.close(its)\n"
             "try:\n"
             "  while block := os.read(ours, 65536): sys.stdout.buffer.write(block.replace(b'\\r\\n', b'\\n'))\n"
             "except OSError: pass\n"  // so Linux says that the last writer has gone
             "sys.exit(program.wait())",
             std::to_string(columns), windway_program()};
  call.insert(call.end(), words.begin(), words.end());
  return run_program(call).out;
}

TEST(Width, IsTheTerminalsWhereTheTextStandsOnOne) {
  const Words call{"measure", take("hw-0412-steps.flac"), "--instrument", "D whistle", "--fully-in"};
  const std::string wide = on_a_terminal(110, call);
  EXPECT_TRUE(fits(wide, 110));
  EXPECT_TRUE(has(wide, "softer, halfway to soft")) << wide;
  const std::string narrow = on_a_terminal(64, call);
  EXPECT_TRUE(fits(narrow, 64)) << narrow;
  EXPECT_TRUE(has(narrow, "softer, halfway")) << narrow;
  EXPECT_EQ(on_a_terminal(80, call), run_windway(call).out);
  EXPECT_EQ(on_a_terminal(0, call), run_windway(call).out);  // a terminal that does not know
}

TEST(Width, OfAFileIsEightyWhateverTheTerminal) {
  const ScratchFolder folder;
  const Words call{"measure", take("hw-0412-steps.flac"), "--instrument", "D whistle", "--fully-in"};
  Words to_file = call;
  to_file.insert(to_file.end(), {"--output", folder.path("a.txt")});
  EXPECT_EQ(on_a_terminal(110, to_file), "");
  EXPECT_EQ(read_file(folder.path("a.txt")), run_windway(call).out);
}

TEST(Width, OfRefusalsIsEighty) {
  for (const Words& words : {Words{"measure"},
                             Words{"check"},
                             Words{"compare"},
                             Words{"partner"},
                             Words{"playing"},
                             Words{"drone", "D"},
                             Words{"protocol"},
                             Words{"instruments", "show", "oboe"},
                             Words{"batch"},
                             Words{"summary"},
                             Words{"history"},
                             Words{"history", "HW-1"},
                             Words{"measure", "gone.wav"},
                             Words{"measure", "a.wav", "--lowest", "H"},
                             Words{"measure", "a.wav", "--lowest", "X"},
                             Words{"measure", "a.wav", "--order", "D E"},
                             Words{"measure", "a.wav", "--kind", "flute"},
                             Words{"my take.wav"},
                             Words{"--a4", "440"},
                             Words{"measure", "a.wav", "--soft", "b.wav"},
                             Words{"batch", "a", "--head-out-range", "6:2"}})
    EXPECT_NE(run_narrow(words).exit_status, 0) << words[0];
}

}  // namespace
}  // namespace windway::cli_tests
