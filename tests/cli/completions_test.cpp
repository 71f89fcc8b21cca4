// SPDX-License-Identifier: GPL-3.0-or-later
// bash itself completes here, with stand-ins for the two functions of bash-completion.
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "cli/run_program.hpp"

namespace windway::cli_tests {
namespace {

constexpr const char* stand_ins = R"(
_init_completion() { words=("${call[@]}"); cword=$((${#call[@]} - 1)); cur=${call[cword]}; prev=${call[cword - 1]}; }
_filedir() { COMPREPLY=('(files)'); }
source "$1" && shift
call=(windway "$@")
_windway
echo "${COMPREPLY[*]}"
)";

/// What bash offers for the last word of a call; the files of the folder as "(files)".
std::string offered(const std::vector<std::string>& call) {
  const ScratchFolder folder;
  const ProgramRun written = run_program({WINDWAY_BUILD_DIR "/windway_write_completions", folder.path()});
  EXPECT_EQ(written.exit_status, 0) << written.err;
  std::vector<std::string> words{"bash", "--norc", "-c", stand_ins, "bash", folder.path("windway.bash")};
  words.insert(words.end(), call.begin(), call.end());
  const ProgramRun run = run_program(words);
  EXPECT_EQ(run.err, "");
  return run.out;
}

TEST(Completions, OfferCommands) { EXPECT_EQ(offered({"me"}), "measure\n"); }

TEST(Completions, OfferCommandsAfterHelp) { EXPECT_EQ(offered({"help", "me"}), "measure\n"); }

TEST(Completions, OfferTheOptionsOfTheCommand) {
  EXPECT_EQ(offered({"measure", "--fully"}), "--fully-in\n");
  EXPECT_EQ(offered({"drone", "--fully"}), "\n");
}

TEST(Completions, OfferTheChoicesOfAnOption) {
  EXPECT_EQ(offered({"measure", "--kind", ""}), "whistle recorder\n");
  EXPECT_EQ(offered({"measure", "--format", "ht"}), "html\n");
}

TEST(Completions, OfferFilesWhereAFileIsMeant) {
  EXPECT_EQ(offered({"measure", ""}), "(files)\n");
  EXPECT_EQ(offered({"measure", "--output", ""}), "(files)\n");
  EXPECT_EQ(offered({"measure", "--instrument", ""}), "(files)\n");
  EXPECT_EQ(offered({"sheet", "--results", ""}), "(files)\n");
}

TEST(Completions, OfferNothingWhereANumberOrANoteIsMeant) {
  EXPECT_EQ(offered({"measure", "--a4", ""}), "\n");
  EXPECT_EQ(offered({"measure", "--lowest", ""}), "\n");
  EXPECT_EQ(offered({"drone", ""}), "\n");
}

}  // namespace
}  // namespace windway::cli_tests
