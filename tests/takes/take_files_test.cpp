// SPDX-License-Identifier: GPL-3.0-or-later
#include "takes/take_files.hpp"

#include <gtest/gtest.h>

#include <filesystem>
#include <sstream>

#include "manifest/sound_endings.hpp"
#include "manifest/true_path.hpp"
#include "written_file.hpp"

namespace windway {
namespace {

namespace fs = std::filesystem;
using Paths = std::vector<std::string>;

class TakeFilesIn : public testing::Test {
 protected:
  std::string made(const std::string& name) const {
    std::string path = folder_.path_of(name);
    fs::create_directories(fs::path(path).parent_path());
    test::write_bytes(path, "x");
    return path;
  }
  std::string path_of(const std::string& name) const { return folder_.path_of(name); }
  std::string root() const { return fs::path(folder_.path_of("x")).parent_path().string(); }

 private:
  test::TemporaryFolder folder_;
};

TEST_F(TakeFilesIn, FoldersAreSearchedDeepAndSortedBytewiseByPath) {
  const std::string lower = made("b/a.wav");
  const std::string deep = made("a/z/deep.flac");
  const std::string dashed = made("a-b/x.wav");  // '-' stands before '/' in bytes
  const std::string upper = made("B.wav");
  EXPECT_EQ(take_files({root()}).takes, (Paths{upper, dashed, deep, lower}));
}

TEST_F(TakeFilesIn, FoldersGiveSoundFilesAndListTheOthers) {
  const std::string notes = made("notes.txt");
  const std::string nameless = made("README");
  const std::string samples = made("headless.raw");  // no rate: it does not say sound
  const std::string take = made("take.wav");
  const TakeFiles found = take_files({root()});
  EXPECT_EQ(found.takes, (Paths{take}));
  EXPECT_EQ(found.passed_over, (Paths{nameless, samples, notes}));
}

TEST_F(TakeFilesIn, HiddenFilesAndFoldersAreNoTakes) {
  made(".hidden.wav");
  made(".trash/old.wav");
  const TakeFiles found = take_files({root()});
  EXPECT_TRUE(found.takes.empty());
  EXPECT_TRUE(found.passed_over.empty());
}

TEST_F(TakeFilesIn, AHiddenFolderGivenByNameIsSearched) {
  const std::string take = made(".bench/take.wav");
  EXPECT_EQ(take_files({path_of(".bench")}).takes, (Paths{take}));
}

TEST_F(TakeFilesIn, AFileGivenByNameIsATakeWhateverItsEnding) {
  const std::string notes = made("notes.txt");
  const TakeFiles found = take_files({root(), notes});
  EXPECT_EQ(found.takes, (Paths{notes}));
  EXPECT_TRUE(found.passed_over.empty());
}

TEST_F(TakeFilesIn, AFileThatIsNotThereIsKeptAsATake) {
  const Paths paths{path_of("none.wav"), path_of("no/folder/none.wav"), ""};
  EXPECT_EQ(take_files(paths).takes, paths);
}

TEST_F(TakeFilesIn, TheSameFileIsTakenOnceWhereItIsNamedFirst) {
  const std::string second = made("b.wav");
  const std::string first = made("a.wav");
  fs::create_symlink("b.wav", path_of("c.wav"));
  const std::string roundabout = root() + "/./x/../b.wav";
  EXPECT_EQ(take_files({roundabout, second, root(), first}).takes, (Paths{roundabout, first}));
}

TEST_F(TakeFilesIn, LinksThatGoRoundInCirclesAreSurvived) {
  const std::string take = made("inner/take.wav");
  fs::create_directory_symlink("..", path_of("inner/up"));
  fs::create_directory_symlink(".", path_of("inner/here"));
  fs::create_symlink("itself.wav", path_of("itself.wav"));
  EXPECT_EQ(take_files({root()}).takes, (Paths{take, path_of("itself.wav")}));
}

TEST_F(TakeFilesIn, FoldersBehindLinksAreSearched) {
  made("bench/take.wav");
  const std::string inside = made("list/other.wav");
  fs::create_directory_symlink("../bench", path_of("list/bench"));
  EXPECT_EQ(take_files({path_of("list")}).takes, (Paths{path_of("list/bench/take.wav"), inside}));
}

TEST_F(TakeFilesIn, ALinkToNowhereIsATakeThatIsMissed) {
  fs::create_symlink("moved_away.wav", path_of("take.wav"));
  fs::create_symlink("moved_away.txt", path_of("notes.txt"));
  const TakeFiles found = take_files({root()});
  EXPECT_EQ(found.takes, (Paths{path_of("take.wav")}));
  EXPECT_EQ(found.passed_over, (Paths{path_of("notes.txt")}));
}

TEST_F(TakeFilesIn, FoldersThatWereSearchedAreTold) {
  made("a/b/take.wav"), made(".trash/old.wav");
  EXPECT_EQ(take_files({path_of("a")}).folders,
            (std::set<std::string>{true_path(path_of("a")), true_path(path_of("a/b"))}));
  EXPECT_TRUE(take_files({path_of("a/b/take.wav")}).folders.empty());
}

TEST_F(TakeFilesIn, AnEmptyFolderGivesNothing) {
  const TakeFiles found = take_files({root()});
  EXPECT_TRUE(found.takes.empty());
  EXPECT_TRUE(found.passed_over.empty());
}

// The formats that libsndfile lists at https://libsndfile.github.io/libsndfile/formats.html (from memory).
TEST(SoundEndings, AreThoseThatLibsndfileReads) {
  for (const char* ending :
       {"wav", "w64", "rf64", "aiff", "aif", "aifc", "au",  "snd", "caf", "flac", "ogg", "oga", "opus",
        "mp3", "voc", "paf",  "sd2",  "sds", "sf",   "pvf", "avr", "xi",  "htk",  "wve", "iff"})
    EXPECT_TRUE(has_sound_ending(std::string("take.") + ending)) << ending;
}

TEST(SoundEndings, AreThoseThatTelephonesRecordInto) {
  for (const char* ending : {"m4a", "aac", "3gp", "webm", "mp4", "mov", "amr", "mkv", "wma", "tta", "spx"})
    EXPECT_TRUE(has_sound_ending(std::string("take.") + ending)) << ending;
}

TEST(SoundEndings, MayBeInCapitals) { EXPECT_TRUE(has_sound_ending("TAKE01.Wav")); }

TEST(SoundEndings, AreTheLastEndingOnly) {
  for (const char* name : {"take.wav.bak", "wav", "take.", "take", "", "take.wavy", "take.txt", "take.csv", "t.json"})
    EXPECT_FALSE(has_sound_ending(name)) << name;
}

Paths listed(const std::string& text) {
  std::istringstream list(text);
  return listed_paths(list);
}

TEST(ListedPaths, StandOneALine) { EXPECT_EQ(listed("a.wav\nb c.wav"), (Paths{"a.wav", "b c.wav"})); }

TEST(ListedPaths, MayEndInCarriageReturns) { EXPECT_EQ(listed("a.wav\r\nb.wav\r\n"), (Paths{"a.wav", "b.wav"})); }

TEST(ListedPaths, MayBeginWithAByteOrderMark) {
  EXPECT_EQ(listed("\xEF\xBB\xBF"
                   "a.wav\n"),
            (Paths{"a.wav"}));
}

TEST(ListedPaths, EndedByZeroBytesMayHoldLineEnds) {
  using std::string_literals::operator""s;
  EXPECT_EQ(listed("a\nb.wav\0c\r.wav\0"s), (Paths{"a\nb.wav", "c\r.wav"}));
}

TEST(ListedPaths, SkipBlankLines) {
  EXPECT_EQ(listed("\n a.wav\n  \t\n\r\n\n"), (Paths{" a.wav"}));
  EXPECT_TRUE(listed("").empty());
}

}  // namespace
}  // namespace windway
