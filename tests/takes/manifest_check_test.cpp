// SPDX-License-Identifier: GPL-3.0-or-later
#include "takes/manifest_check.hpp"

#include <gtest/gtest.h>

#include <filesystem>

#include "written_file.hpp"

namespace windway {
namespace {

using Paths = std::vector<std::string>;

/// A folder with a manifest and takes.
class CheckedManifest : public testing::Test {
 protected:
  std::string made(const std::string& name) const {
    std::string path = folder_.path_of(name);
    std::filesystem::create_directories(std::filesystem::path(path).parent_path());
    test::write_bytes(path, "x");
    return path;
  }
  std::string in(const std::string& name) const { return folder_.path_of(name); }
  Manifest manifest(const std::string& text) const { return manifest_from_csv(text, in("m.csv")); }

  ManifestCheck check(const std::string& text, const Paths& paths = {}, const std::string& names = "") const {
    const std::optional<Manifest> rows = manifest(text);
    const auto pattern = names.empty() ? std::nullopt : std::optional(serial_pattern(names));
    const auto files = paths.empty() ? std::nullopt : std::optional(take_files(paths));
    return check_of(*rows, pattern, batch_jobs(files, rows, pattern), files.has_value());
  }

 private:
  test::TemporaryFolder folder_;
};

void expect_only(const ManifestCheck& check, const std::string& what, const Paths& places, bool is_missing) {
  ASSERT_EQ(check.findings.size(), 1U);
  EXPECT_EQ(check.findings[0].what, what);
  EXPECT_EQ(check.findings[0].places, places);
  EXPECT_EQ(check.findings[0].is_missing, is_missing);
}

TEST_F(CheckedManifest, FindsNothingWhereAllIsThere) {
  made("a.wav"), made("b.wav"), made("c.wav"), made("notes.txt"), made("day/other.wav"), made(".hidden.wav");
  const ManifestCheck found = check("take,serial,retake\na.wav,HW-1,1\nb.wav,HW-1,2\nc.wav,HW-2,1\n");
  EXPECT_EQ(found.takes, 3U);
  EXPECT_EQ(found.instruments, 2U);
  EXPECT_TRUE(found.findings.empty());
}

TEST_F(CheckedManifest, FindsRowsWithoutFiles) {
  made("a.wav");
  expect_only(check("take,serial\na.wav,HW-1\ngone.wav,HW-2\n"), "There is no file for 1 row", {"line 3: gone.wav"},
              true);
}

TEST_F(CheckedManifest, FindsSoundFilesWithoutRowsBesideItsTakesOrInTheFoldersGiven) {
  made("day/a.wav"), made("day/b.flac"), made("day/notes.txt"), made("night/c.wav");
  const std::string rows = "take,serial\nday/a.wav,HW-1\n";
  expect_only(check(rows), "There is no row for 1 sound file", {"day/b.flac"}, true);
  expect_only(check(rows, {in("day"), in("night")}), "There is no row for 2 sound files", {"day/b.flac", "night/c.wav"},
              true);
}

TEST_F(CheckedManifest, FindsSerialsThatNobodyTells) {
  made("a.wav"), made("HW-2_raw.wav"), made("c.wav");
  const std::string rows = "take,serial\na.wav,HW-1\nHW-2_raw.wav,\nc.wav,\n";
  expect_only(check(rows), "No serial is given in 2 rows, though others give one",
              {"line 3: HW-2_raw.wav", "line 4: c.wav"}, true);
  expect_only(check(rows, {}, "{serial}_{stage}"), "The pattern '{serial}_{stage}' cannot read 1 name",
              {"line 4: c.wav"}, true);
}

TEST_F(CheckedManifest, SaysWhereFiguresAreMissingThatOthersHave) {
  made("a.wav"), made("b.wav");
  const ManifestCheck found = check("take,bore_temp_c,head_out_mm\na.wav,20,\nb.wav,,3\n");
  ASSERT_EQ(found.findings.size(), 2U);
  EXPECT_EQ(found.findings[0].what, "No bore_temp_c is given in 1 row, though others give it");
  EXPECT_EQ(found.findings[0].places, Paths{"line 3: b.wav"});
  EXPECT_EQ(found.findings[1].what, "No head_out_mm is given in 1 row, though others give it");
  EXPECT_EQ(found.findings[1].places, Paths{"line 2: a.wav"});
  EXPECT_FALSE(found.findings[0].is_missing || found.findings[1].is_missing);
  EXPECT_TRUE(check("take,bore_temp_c\na.wav,\nb.wav,\n").findings.empty());
}

TEST_F(CheckedManifest, SaysWhichTakesShareARetakeNumber) {
  for (const char* name : {"a.wav", "b.wav", "c.wav", "d.wav"}) made(name);
  expect_only(
      check("take,serial,stage,retake\na.wav,HW-1,raw,2\nb.wav,HW-1,final,2\nc.wav,HW-1,raw,2\nd.wav,HW-2,raw,2\n"),
      "Takes of one serial and stage share 1 retake number", {"HW-1 raw, retake 2: a.wav, c.wav"}, false);
}

TEST_F(CheckedManifest, SaysWhatGoesThrough) {
  made("a.wav");
  expect_only(check("take,wood,bridle\na.wav,pear,no\n"), "The results copy 2 columns that windway does not use",
              {"wood", "bridle"}, false);
}

TEST_F(CheckedManifest, SaysWhichTakesThePathsLeaveOut) {
  made("a.wav"), made("b.wav");
  expect_only(check("take\na.wav\nb.wav\n", {in("b.wav")}), "The paths given leave out 1 take of the manifest",
              {"a.wav"}, false);
}

TEST_F(CheckedManifest, NamesSoundsWithoutARowAsARowWould) {
  const std::string elsewhere = made("elsewhere/x.wav");
  made("elsewhere/y.wav"), made("bench/a.wav"), made("bench/b.wav");
  const Manifest rows = manifest_from_csv("take\n" + elsewhere + "\na.wav\nnone/c.wav\n", in("bench/m.csv"));
  EXPECT_EQ(sounds_without_row(rows), (Paths{in("elsewhere/y.wav"), "b.wav"}));
}

}  // namespace
}  // namespace windway
