// SPDX-License-Identifier: GPL-3.0-or-later
#include "manifest/manifest.hpp"

#include <gtest/gtest.h>

#include "error.hpp"
#include "written_file.hpp"

namespace windway {
namespace {

using std::string_literals::operator""s;

Manifest manifest_in(const std::string& text) { return manifest_from_csv(text, "bench.csv"); }

ManifestRow only_row(const std::string& text) {
  const Manifest manifest = manifest_in(text);
  EXPECT_EQ(manifest.rows.size(), 1U);
  return manifest.rows.empty() ? ManifestRow{} : manifest.rows.front();
}

TEST(Manifest, SaysAllThatIsKnownOfATake) {
  const ManifestRow row = only_row(
      "take,serial,stage,lot,material,head,operator,bore_temp_c,head_out_mm,recorded_at,remark,retake\n"
      "a.wav,HW-0412,voiced,L7,pear,H2,Ilse,21.5,3.25,2026-11-25T09:30,hall door open,2\n");
  EXPECT_EQ(row.take, "a.wav");
  EXPECT_EQ(row.subject.serial, "HW-0412");
  EXPECT_EQ(row.subject.stage, "voiced");
  EXPECT_EQ(row.subject.lot, "L7");
  EXPECT_EQ(row.subject.material, "pear");
  EXPECT_EQ(row.subject.head, "H2");
  EXPECT_EQ(row.subject.operator_name, "Ilse");
  EXPECT_EQ(row.bore_temp_c, 21.5);
  EXPECT_EQ(row.head_out_mm, 3.25);
  EXPECT_EQ(row.subject.recorded_at, "2026-11-25T09:30");
  EXPECT_EQ(row.subject.remark, "hall door open");
  EXPECT_EQ(row.subject.retake, 2);
  EXPECT_EQ(row.line, 2);
  EXPECT_TRUE(row.subject.other.empty());
}

TEST(Manifest, ColumnsStandInAnyOrderAndOnlyTakeMustBeThere) {
  EXPECT_EQ(only_row("serial,take\nHW-1,a.wav\n").subject.serial, "HW-1");
  EXPECT_EQ(only_row("take\na.wav").take, "a.wav");
}

TEST(Manifest, KnownColumnsMayHaveCapitals) {
  const ManifestRow row = only_row("Take,SERIAL,Colour\na.wav,HW-1,red\n");
  EXPECT_EQ(row.subject.serial, "HW-1");
  EXPECT_EQ(row.subject.other, (std::vector<std::pair<std::string, std::string>>{{"Colour", "red"}}));
}

TEST(Manifest, EmptyCellsSayNothing) {
  const ManifestRow row = only_row("take,serial,bore_temp_c,head_out_mm,retake,recorded_at,colour\na.wav,,\"\", ,,,\n");
  EXPECT_EQ(row.subject.serial, std::nullopt);
  EXPECT_EQ(row.bore_temp_c, std::nullopt);
  EXPECT_EQ(row.head_out_mm, std::nullopt);
  EXPECT_EQ(row.subject.retake, std::nullopt);
  EXPECT_EQ(row.subject.recorded_at, std::nullopt);
}

TEST(Manifest, OtherColumnsPassThroughInTheirOrderAlsoWhereTheirCellsAreEmpty) {
  const ManifestRow row = only_row("wood,take,year,shop\npear,a.wav,,\"\"\n");
  EXPECT_EQ(row.subject.other,
            (std::vector<std::pair<std::string, std::string>>{{"wood", "pear"}, {"year", ""}, {"shop", ""}}));
}

TEST(Manifest, SaysWhichColumnsItHasAndWhichOfThemArePassedThrough) {
  const Manifest manifest = manifest_in("bridle,Take,Serial,,wood\n,a.wav,HW-1,,\n");
  EXPECT_EQ(manifest.columns, (std::vector<std::string>{"bridle", "take", "serial", "wood"}));
  EXPECT_EQ(manifest.other_columns, (std::vector<std::string>{"bridle", "wood"}));
}

TEST(Manifest, ReadsWhatSpreadsheetsWrite) {
  const Manifest manifest = manifest_in(
      "\xEF\xBB\xBF"
      "take,remark\r\na.wav,\"soft, then \"\"hard\"\"\"\r\n,\r\n\r\nb.wav,\r\n");
  ASSERT_EQ(manifest.rows.size(), 2U);
  EXPECT_EQ(manifest.rows[0].subject.remark, "soft, then \"hard\"");
  EXPECT_EQ(manifest.rows[1].take, "b.wav");
  EXPECT_EQ(manifest.rows[1].line, 5);
}

TEST(Manifest, LinesAreCountedThroughCellsOfSeveralLines) {
  const Manifest manifest = manifest_in("take,remark\na.wav,\"one\ntwo\n\"\n  \nb.wav,x\n");
  ASSERT_EQ(manifest.rows.size(), 2U);
  EXPECT_EQ(manifest.rows[0].subject.remark, "one\ntwo\n");
  EXPECT_EQ(manifest.rows[0].line, 2);
  EXPECT_EQ(manifest.rows[1].line, 6);
}

TEST(Manifest, LinesMayEndInCarriageReturnsAlone) {
  const Manifest manifest = manifest_in("take,serial\ra.wav,1\rb.wav,2\r");
  ASSERT_EQ(manifest.rows.size(), 2U);
  EXPECT_EQ(manifest.rows[1].line, 3);
}

TEST(Manifest, SemicolonsOrTabsSeparateWhereTheFirstLineHasNoComma) {
  EXPECT_EQ(only_row("take;serial\na,b.wav;HW-1\n").take, "a,b.wav");
  EXPECT_EQ(only_row("take\tserial\na;b.wav\tHW-1\n").take, "a;b.wav");
  EXPECT_EQ(only_row("take,a;b\nx.wav,1\n").subject.other.front().first, "a;b");
}

TEST(Manifest, ADecimalCommaIsANumberWhereNoCommaSeparates) {
  EXPECT_EQ(only_row("take;bore_temp_c;head_out_mm\na.wav;22,5;3.5\n").bore_temp_c, 22.5);
  EXPECT_EQ(only_row("take\tbore_temp_c\na.wav\t-2,25\n").bore_temp_c, -2.25);
}

TEST(Manifest, NumbersReachTheirLimits) {
  EXPECT_EQ(only_row("take,bore_temp_c\na.wav,-20\n").bore_temp_c, -20.0);
  EXPECT_EQ(only_row("take,bore_temp_c\na.wav,+60\n").bore_temp_c, 60.0);
  EXPECT_EQ(only_row("take,head_out_mm\na.wav,0\n").head_out_mm, 0.0);
  EXPECT_EQ(only_row("take,retake\na.wav,007\n").subject.retake, 7);
}

TEST(Manifest, TakesLieInItsFolderUnlessTheyAreAbsolute) {
  const Manifest manifest = manifest_from_csv("take\nx/a.wav\n/elsewhere/b.wav\n", "bench/july.csv");
  ASSERT_EQ(manifest.rows.size(), 2U);
  EXPECT_EQ(path_of_take(manifest, manifest.rows[0]), "bench/x/a.wav");
  EXPECT_EQ(path_of_take(manifest, manifest.rows[1]), "/elsewhere/b.wav");
  EXPECT_EQ(path_of_take(manifest_in("take\na.wav"),
                         ManifestRow{.take = "a.wav", .subject = {}, .bore_temp_c = {}, .head_out_mm = {}}),
            "a.wav");
}

TEST(Manifest, IsReadFromAFile) {
  const test::TemporaryFolder folder;
  test::write_bytes(folder.path_of("bench.csv"), "take,serial\na.wav,HW-1\n");
  const Manifest manifest = read_manifest(folder.path_of("bench.csv"));
  EXPECT_EQ(manifest.path, folder.path_of("bench.csv"));
  ASSERT_EQ(manifest.rows.size(), 1U);
  EXPECT_EQ(manifest.rows[0].subject.serial, "HW-1");
}

std::string mistake_in(const std::string& text) {
  try {
    manifest_in(text);
  } catch (const Error& error) {
    EXPECT_EQ(error.kind(), ErrorKind::usage);
    return error.what();
  }
  return "none";
}

TEST(ManifestMistake, NoTakeColumn) {
  EXPECT_EQ(mistake_in("serial,stage\nHW-1,raw\n"),
            "bench.csv, line 1, take: there is no such column; the first line must name the columns, as in "
            "take,serial,stage");
  EXPECT_EQ(mistake_in("serial,takes\nHW-1,raw\n"),
            "bench.csv, line 1, take: there is no such column (did you mean takes?); the first line must name the "
            "columns, as in take,serial,stage");
}

TEST(ManifestMistake, NumbersThatAreNone) {
  const std::string wanted = "give a number from -20 to 60 (degrees Celsius), or leave the cell empty";
  const auto with = [](const std::string& cell) {
    return mistake_in("take,bore_temp_c\nb.wav,20\na.wav," + cell + "\n");
  };
  EXPECT_EQ(with("warm"), "bench.csv, line 3, bore_temp_c: warm is not a number; " + wanted);
  EXPECT_EQ(with("\"22,5\""),
            "bench.csv, line 3, bore_temp_c: 22,5 is not a number; write it with a decimal point: " + wanted);
  EXPECT_EQ(with("60.1"), "bench.csv, line 3, bore_temp_c: 60.1 is out of range; " + wanted);
  for (const char* cell : {"-20.5", "nan", "inf", "0x10", "22 C", "1e99", "+-5", "--5", "1e999"})
    EXPECT_NE(with(cell), "none") << cell;
}

TEST(ManifestMistake, AHeadFurtherInThanIn) {
  EXPECT_EQ(mistake_in("take;head_out_mm\na.wav;-1,5\n"),
            "bench.csv, line 2, head_out_mm: -1,5 is out of range; give a number from 0 to 100 (mm), or leave the cell "
            "empty");
}

TEST(ManifestMistake, ARetakeThatIsNoWholeNumber) {
  for (const char* cell : {"1.5", "-1", "two", "12345678901"})
    EXPECT_EQ(mistake_in("take,retake\na.wav,"s + cell + "\n"),
              "bench.csv, line 2, retake: "s + cell +
                  " is not a whole number; write digits only, as in 2, or leave the cell empty");
}

TEST(ManifestMistake, ADateOtherThanIso8601) {
  EXPECT_EQ(mistake_in("take,recorded_at\na.wav,25.11.2026\n"),
            "bench.csv, line 2, recorded_at: 25.11.2026 is not an ISO 8601 date; write it as in 2026-11-25 or "
            "2026-11-25T09:30, or leave the cell empty");
}

TEST(ManifestMistake, TheSameTakeTwiceHoweverItIsWritten) {
  EXPECT_EQ(mistake_in("take\na.wav\nb.wav\n./x/../a.wav\n"),
            "bench.csv, line 4, take: ./x/../a.wav is already in line 2; leave one out");
}

TEST(ManifestMistake, TheSameColumnTwice) {
  EXPECT_EQ(mistake_in("take,head,Head\na.wav,1,2\n"),
            "bench.csv, line 1, column 3: head is there twice; leave one out or rename it");
}

TEST(ManifestMistake, AColumnThatIsNearlyAKnownOne) {
  const auto meant = [](const std::string& column) -> std::string {
    const std::string mistake = mistake_in("take," + column + "\na.wav,\n");
    const std::string begin = "bench.csv, line 1, column 2: " + column + " is unknown; did you mean ";
    const std::string end = "? Otherwise give your column a less similar name";
    if (mistake == "none") return mistake;
    EXPECT_TRUE(mistake.starts_with(begin) && mistake.ends_with(end)) << mistake;
    return mistake.substr(begin.size(), mistake.size() - begin.size() - end.size());
  };
  for (const char* column : {"bore_temp", "bore_temp_f", "Bore temp C", "bore_temperature", "boretemp_c"})
    EXPECT_EQ(meant(column), "bore_temp_c") << column;
  for (const char* column : {"head_out", "head_out_cm", "Head-Out"}) EXPECT_EQ(meant(column), "head_out_mm") << column;
  for (const char* column : {"opertor", "operater", "OPERATORS"}) EXPECT_EQ(meant(column), "operator") << column;
  EXPECT_EQ(meant("serail"), "serial");
  EXPECT_EQ(meant("matreial"), "material");
  EXPECT_EQ(meant("recorded"), "recorded_at");
  EXPECT_EQ(meant("retakes"), "retake");
  for (const char* column : {"bridle", "wood", "colour", "year", "series", "log", "date", "temperature", "bore",
                             "microphone", "window_mm", "beak"})
    EXPECT_EQ(meant(column), "none") << column;
}

TEST(ManifestMistake, AColumnBesideTheKnownOneIsNotMeantByIt) {
  EXPECT_EQ(mistake_in("take,bore_temp_c,bore_temp_f\na.wav,20,68\n"), "none");
}

TEST(ManifestMistake, EachMisspeltColumnIsCounted) {
  EXPECT_EQ(mistake_in("take,opertor,bore_temp\na.wav,,\n"),
            "bench.csv, line 1, column 2: opertor is unknown; did you mean operator? Otherwise give your column a less "
            "similar name (and 1 more mistake)");
}

TEST(ManifestMistake, RaggedLines) {
  EXPECT_EQ(mistake_in("take,bore_temp_c,lot\na.wav,20,7\nb.wav,20,5,7\n"),
            "bench.csv, line 3: 4 cells where the first line names 3 columns; put a cell that holds a separator in "
            "quotation marks");
  EXPECT_EQ(mistake_in("take,lot\na.wav\n"),
            "bench.csv, line 2: 1 cell where the first line names 2 columns; put a cell that holds a separator in "
            "quotation marks");
}

TEST(ManifestMistake, TextThatIsNotUtf8) {
  const std::string remedy =
      "is not UTF-8 text; save the table as CSV in UTF-8 (a spreadsheet asks for the character set)";
  EXPECT_EQ(mistake_in("take,material\na.wav,pear\nb.wav,B\xFC"
                       "chse\n"),
            "bench.csv, line 3, material: " + remedy);
  EXPECT_EQ(mistake_in("take,h\xF6he\na.wav,1\n"), "bench.csv, line 1, column 2: " + remedy);
  EXPECT_EQ(mistake_in("\xFF\xFEt\0a\0k\0e\0\r\0\n\0"s), "bench.csv, line 1, column 1: " + remedy);
  EXPECT_EQ(mistake_in("t\0a\0k\0e\0\r\0\n\0a\0"s), "bench.csv, line 1, column 1: " + remedy);
  EXPECT_EQ(mistake_in("take,material\na.wav,B\xC3\xBC"
                       "chse\n"),
            "none");
}

TEST(ManifestMistake, QuotationMarksThatDoNotMatch) {
  const std::string remedy =
      ": a quotation mark is not closed, or is inside a cell; put the whole cell in quotation marks and double "
      "those inside it";
  EXPECT_EQ(mistake_in("take,remark\na.wav,x\nb.wav,\"never closed\n\n\n"), "bench.csv, line 3" + remedy);
  EXPECT_EQ(mistake_in("take,remark\na.wav,the 5\" head\n"), "bench.csv, line 2" + remedy);
}

TEST(ManifestMistake, NothingInTheFile) {
  for (const char* text : {"", "\n\r\n", "\xEF\xBB\xBF", "  \n"})
    EXPECT_EQ(mistake_in(text),
              "bench.csv: it is empty; write the names of the columns into the first line, as in take,serial,stage");
  EXPECT_EQ(mistake_in("take,serial\n,\n"), "bench.csv: it names no take; write a line for each below the first");
}

TEST(ManifestMistake, ALineWithoutItsTake) {
  EXPECT_EQ(mistake_in("take,serial\n,HW-1\n"), "bench.csv, line 2, take: is empty; write the name of the sound file");
}

TEST(ManifestMistake, ACellUnderNoName) {
  EXPECT_EQ(mistake_in("take,\na.wav,pear\n"),
            "bench.csv, line 2, column 2: has no name in the first line; name it, or empty its cells");
  EXPECT_EQ(mistake_in("take,,\na.wav,,\n"), "none");  // as spreadsheets write columns that were once used
}

TEST(ManifestMistake, TheFirstOfManyIsToldWithHowManyMoreThereAre) {
  EXPECT_EQ(mistake_in("take,retake,head_out_mm\na.wav,x,-1\nb.wav,2,far\nb.wav,2,3\n"),
            "bench.csv, line 2, retake: x is not a whole number; write digits only, as in 2, or leave the cell empty "
            "(and 3 more mistakes)");
}

TEST(ManifestMistake, LongCellsAreToldByTheirBeginning) {
  const std::string umlauts =
      "x\xC3\xA4\xC3\xA4\xC3\xA4\xC3\xA4\xC3\xA4\xC3\xA4\xC3\xA4\xC3\xA4\xC3\xA4\xC3\xA4"
      "\xC3\xA4\xC3\xA4\xC3\xA4\xC3\xA4\xC3\xA4\xC3\xA4\xC3\xA4\xC3\xA4\xC3\xA4\xC3\xA4";
  EXPECT_EQ(mistake_in("take,retake\na.wav," + umlauts + "\n"),
            "bench.csv, line 2, retake: " + umlauts.substr(0, 39) +
                "... is not a whole number; write digits only, as in 2, or leave the cell empty");
}

TEST(ManifestMistake, AFileThatCannotBeRead) {
  const test::TemporaryFolder folder;
  const auto refusal = [](const std::string& path) -> std::string {
    try {
      read_manifest(path);
    } catch (const Error& error) {
      EXPECT_EQ(error.kind(), ErrorKind::usage);
      return error.what();
    }
    return "none";
  };
  const std::string none = folder.path_of("none.csv");
  EXPECT_EQ(refusal(none), "cannot read the manifest " + none + ": check its name and its permissions");
  const std::string itself = folder.path_of("");
  EXPECT_EQ(refusal(itself), "cannot read the manifest " + itself + ": it is a folder; name the file in it");
}

}  // namespace
}  // namespace windway
