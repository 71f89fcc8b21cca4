// SPDX-License-Identifier: GPL-3.0-or-later
// The limits of size: what lies beyond one is refused with its number. The large files are sparse.
#include <gtest/gtest.h>

#include <cstdint>
#include <filesystem>

#include "cli/small_bench.hpp"
#include "cli/takes.hpp"
#include "faults/written_results.hpp"
#include "support/text.hpp"

namespace windway::cli_tests {
namespace {

namespace fs = std::filesystem;
using Words = std::vector<std::string>;

constexpr std::uintmax_t file_mebibyte = std::uintmax_t{1} << 20U;

/// Little-endian, as RIFF has it.
std::string bytes_of(std::uint64_t value, int count) {
  std::string text;
  for (int byte = 0; byte < count; ++byte) text += static_cast<char>((value >> (8 * byte)) & 0xFFU);
  return text;
}

/// Sixteen bits, one channel, as EBU Tech 3306 has it where a WAV file would be too long (from memory).
std::string rf64_header(std::uint64_t data_bytes, unsigned rate_hz) {
  const std::string format = bytes_of(1, 2) + bytes_of(1, 2) + bytes_of(rate_hz, 4) + bytes_of(2 * rate_hz, 4) +
                             bytes_of(2, 2) + bytes_of(16, 2);
  return "RF64\xff\xff\xff\xffWAVEds64" + bytes_of(28, 4) + bytes_of(data_bytes + 72, 8) + bytes_of(data_bytes, 8) +
         bytes_of(data_bytes / 2, 8) + bytes_of(0, 4) + "fmt " + bytes_of(16, 4) + format + "data\xff\xff\xff\xff";
}

struct Sizes : testing::Test {
  /// A file that begins so and is then zeros, which take no room on the disk.
  std::string sparse(const std::string& name, const std::string& begin, std::uintmax_t size) const {
    write_file(folder.path(name), begin);
    fs::resize_file(folder.path(name), size);
    return folder.path(name);
  }
  std::string long_wav(unsigned hours) const {
    constexpr unsigned rate_hz = 8000;
    const unsigned data_bytes = hours * 3600 * rate_hz;
    const WavHeader header{.rate_hz = rate_hz, .bits = 8, .riff_bytes = data_bytes + 36, .data_bytes = data_bytes};
    return sparse("long.wav", wav_bytes(header, ""), data_bytes + 44);
  }
  ScratchFolder folder;
};

TEST_F(Sizes, OfATakeBeyondADayAreRefusedAtOnce) {
  constexpr std::uint64_t data_bytes = 25ULL * 3600 * 48000 * 2;
  const std::string header = rf64_header(data_bytes, 48000);
  for (const std::string& take : {long_wav(25), sparse("long.rf64", header, data_bytes + header.size())}) {
    const ProgramRun run = run_windway({"measure", take});
    expect_one_complaint(run, 3, "cannot read " + take, "it is longer than 24 hours; cut it into parts");
  }
  const ProgramRun batch = run_windway(batch_call({folder.path("long.wav"), take_with(""), "--jobs", "1"}));
  EXPECT_EQ(batch.exit_status, 3);
  EXPECT_TRUE(has(unwrapped(batch.out), "it is longer than 24 hours; cut it into parts")) << batch.out;
  EXPECT_TRUE(has(batch.out, "1 of 2 instruments passes")) << batch.out;
}

TEST_F(Sizes, OfATakeThatOnlyItsHeaderSaysAreNotBelieved) {
  const std::string whole = read_file(on_desk("take.wav"));
  const std::string header = rf64_header(25ULL * 3600 * 24000 * 2, 24000);
  write_file(folder.path("a.wav"), header + whole.substr(44));
  const ProgramRun run = run_windway({"measure", folder.path("a.wav"), "--kind", "whistle", "--lowest", "D5"});
  EXPECT_EQ(run.exit_status, 0) << run.err;
  EXPECT_TRUE(has(run.out, "24 holds of 8 notes in 25 s")) << run.out;
}

TEST_F(Sizes, OfFilesOfTextAreSaid) {
  const std::string toml = sparse("large.toml", "# large\n", file_mebibyte + 1);
  expect_one_complaint(run_windway({"measure", on_desk("take.wav"), "--instrument", toml}), 2,
                       "cannot read the instrument file " + toml, "it is larger than 1 MiB");
  expect_one_complaint(run_windway({"batch", toml}), 2, "cannot read the bench file " + toml,
                       "it is larger than 1 MiB");
  const std::string manifest = sparse("large.csv", "take,serial\n", 64 * file_mebibyte + 1);
  expect_one_complaint(run_windway(batch_call({"--manifest", manifest})), 2, "cannot read the manifest " + manifest,
                       "it is larger than 64 MiB");
}

TEST_F(Sizes, OfSavedResultsAreSaid) {
  const std::string json = sparse("large.json", R"({"schema": "windway.measurement.v1")", 1024 * file_mebibyte + 1);
  for (const Words& call :
       {Words{"measure", json}, {"card", json}, {"compare", json, on_desk("after.json")}, {"sheet", json}})
    expect_one_complaint(run_windway(call), 3, json, "it is larger than 1 GiB");
}

/// Two results, and a line of 70 MiB between them.
struct LongLine : Sizes {
  LongLine() {
    const auto lines = lines_of(read_file(on_desk("bench.jsonl")));
    write_file(results,
               lines[0] + "\n{\"schema\":\"" + std::string(70 * file_mebibyte, 'x') + "\"}\n" + lines[1] + "\n");
  }
  std::string results = folder.path("r.jsonl");
};

TEST_F(LongLine, IsLeftOutOfASummary) {
  const ProgramRun run = run_windway({"summary", results, "--format", "jsonl"});
  EXPECT_EQ(run.exit_status, 3);
  EXPECT_EQ(run.err, "windway: warning: " + results + ", line 2: is not a result of windway batch; it is left out\n");
  EXPECT_EQ(lines_of(run.out).size(), 2U);
}

TEST_F(LongLine, KeepsABatchFromGoingOn) {
  const std::string before = read_file(results);
  const ProgramRun run = run_windway(batch_call({take_with(""), "--results", results, "--resume"}));
  expect_one_complaint(run, 2, results + ", line 2", "is not a result of windway batch");
  EXPECT_TRUE(read_file(results) == before);
}

TEST_F(Sizes, OfWhatStandsInThePlaceOfASheetAreNoMatter) {
  const std::string serial = "HW-1001";
  sparse(serial + ".html", "<!DOCTYPE html>", 17 * file_mebibyte);
  const ProgramRun run =
      run_windway({"sheet", "--all", "--results", on_desk("bench.jsonl"), "--output", folder.path()});
  EXPECT_TRUE(has(unwrapped(run.out), serial + ".html is there and is not a sheet: move it away")) << run.out;
  EXPECT_EQ(fs::file_size(folder.path(serial + ".html")), 17 * file_mebibyte);
}

// Four GiB go through a pipe and onto the disk.
TEST(SizesSlow, OfAPipeBeyondFourGibibytesAreRefused) {
  const ProgramRun run =
      run_program({"bash", "--norc", "-c", "head -c 4294967297 /dev/zero | $0 measure -", windway_program()});
  expect_one_complaint(run, 3, "cannot read standard input", "it gives more than 4 GiB; save it as a file first");
}

}  // namespace
}  // namespace windway::cli_tests
