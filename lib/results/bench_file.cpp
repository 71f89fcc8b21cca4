// SPDX-License-Identifier: GPL-3.0-or-later
#include "results/bench_file.hpp"

#include <algorithm>
#include <filesystem>

#include "input/text_file.hpp"
#include "instrument/toml_table.hpp"
#include "report/wording/choices.hpp"

namespace windway {
namespace {

const std::vector<std::string> keys{"takes",  "manifest", "serial_from", "verdict_from", "instrument", "stage",
                                    "keeper", "group_by", "quote_at_c",  "results",      "limits",     "warm"};
const std::vector<std::string> limit_keys{"tolerance_cents", "max_spread_cents", "max_octave_cents",
                                          "head_out_range_mm"};

/// An absolute path stays as it is.
std::string from_folder_of(const std::string& bench_file, const std::string& path) {
  return (std::filesystem::path(bench_file).parent_path() / path).string();
}

template <typename Choice>
std::optional<Choice> choice_at(const TomlTable& file, const std::string& key) {
  const auto word = file.text(key);
  if (!word) return std::nullopt;
  const auto choice = choice_called<Choice>(*word);
  if (choice) return choice;
  std::string words;
  for (const char* each : choice_words<Choice>) words += (words.empty() ? "" : ", ") + std::string(each);
  file.refuse(key, "must be one of " + words);
}

std::optional<HeadRange> range_at(const TomlTable& limits) {
  const auto range = limits.numbers("head_out_range_mm");
  if (!range) return std::nullopt;
  if (range->size() != 2 || range->front() < 0 || !(range->back() > range->front()))
    limits.refuse("head_out_range_mm", "must be two places in mm, the smaller first, as in [2, 6]");
  return HeadRange{range->front(), range->back()};
}

/// A file beside the bench file; else it is a name that windway knows.
std::optional<std::string> instrument_at(const TomlTable& file, const std::string& path) {
  const auto said = file.text("instrument");
  if (!said) return std::nullopt;
  const std::string beside = from_folder_of(path, *said);
  return said->ends_with(".toml") || std::filesystem::is_regular_file(beside) ? beside : *said;
}

void set_limits(BenchFile& bench, const TomlTable& limits, TomlMistakes& mistakes) {
  limits.allow_only(limit_keys, mistakes);
  mistakes.none_in([&] { bench.tolerance_cents = limits.number("tolerance_cents", 0.1, 200, " cents"); });
  mistakes.none_in([&] { bench.max_spread_cents = limits.number("max_spread_cents", 0.1, 400, " cents"); });
  mistakes.none_in([&] { bench.max_octave_cents = limits.number("max_octave_cents", 0.1, 200, " cents"); });
  mistakes.none_in([&] { bench.head_out_range_mm = range_at(limits); });
}

void set_paths(BenchFile& bench, const TomlTable& file, const std::string& path, TomlMistakes& mistakes) {
  const auto set = [&](std::optional<std::string>& place, const char* key) {
    mistakes.none_in([&] {
      if (const auto said = file.text(key)) place = from_folder_of(path, *said);
    });
  };
  set(bench.manifest, "manifest");
  set(bench.results, "results");
  mistakes.none_in([&] { bench.instrument = instrument_at(file, path); });
  mistakes.none_in([&] {
    for (const std::string& take : file.texts("takes").value_or(std::vector<std::string>{}))
      bench.takes.push_back(from_folder_of(path, take));
  });
}

BenchFile read(const std::string& text, const std::string& path, TomlMistakes& mistakes) {
  BenchFile bench;
  std::optional<TomlTable> file;
  if (!mistakes.none_in([&] { file = TomlTable::parsed(text, path); })) return bench;
  file->allow_only(keys, mistakes);
  set_paths(bench, *file, path, mistakes);
  mistakes.none_in([&] { bench.serial_from = file->text("serial_from"); });
  mistakes.none_in([&] { bench.stage = file->text("stage"); });
  mistakes.none_in([&] { bench.keeper = file->text("keeper"); });
  mistakes.none_in([&] { bench.verdict_from = choice_at<VerdictFrom>(*file, "verdict_from"); });
  mistakes.none_in([&] { bench.group_by = choice_at<GroupBy>(*file, "group_by"); });
  mistakes.none_in([&] { bench.is_warm = file->yes_or_no("warm"); });
  mistakes.none_in([&] { bench.quote_at_c = file->number("quote_at_c", 0, 45, " degrees C"); });
  mistakes.none_in([&] {
    if (const auto limits = file->table("limits")) set_limits(bench, *limits, mistakes);
  });
  return bench;
}

}  // namespace

BenchFile bench_file_from_toml(const std::string& text, const std::string& path) {
  TomlMistakes mistakes;
  BenchFile bench = read(text, path, mistakes);
  mistakes.throw_any();
  return bench;
}

BenchFile read_bench_file(const std::string& path) {
  constexpr std::size_t most_bytes = std::size_t{1} << 20U;
  return bench_file_from_toml(text_file(path, "the bench file", most_bytes), path);
}

}  // namespace windway
