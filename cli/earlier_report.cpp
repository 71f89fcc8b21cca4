// SPDX-License-Identifier: GPL-3.0-or-later
#include "earlier_report.hpp"

#include <algorithm>
#include <filesystem>
#include <system_error>

#include "manifest/sound_endings.hpp"
#include "terminal.hpp"

namespace windway::cli {
namespace {

namespace fs = std::filesystem;

bool is_plain_file(const ResultOptions& result) {
  std::error_code failure;
  return result.output && *result.output != "-" && fs::is_regular_file(*result.output, failure);
}

void say_removed(const std::string& output) {
  complain("note: the earlier " + output + " is removed, as this run made no report");
}

}  // namespace

void remove_earlier_report(const ResultOptions& result, const std::vector<std::string>& inputs) {
  if (!is_plain_file(result)) return;
  std::error_code failure;
  const fs::path file = fs::canonical(*result.output, failure);  // a link stays
  const bool is_input = std::ranges::any_of(
      inputs, [&](const std::string& input) { return !input.empty() && fs::equivalent(input, file, failure); });
  if (file.empty() || is_input || has_sound_ending(*result.output) || has_sound_ending(file.string())) return;
  fs::remove(file, failure);
}

int without_earlier_report(const ResultOptions& result, const std::vector<std::string>& inputs,
                           const std::function<int()>& work) {
  const bool was_there = is_plain_file(result);
  const auto forget = [&] {
    remove_earlier_report(result, inputs);
    if (was_there && !is_plain_file(result)) say_removed(*result.output);
  };
  try {
    const int status = work();
    constexpr int least_by_signal = 128;
    if (status >= least_by_signal) forget();
    return status;
  } catch (...) {
    forget();
    throw;
  }
}

void remove_report_of_mistaken_call(const std::vector<std::string>& words) {
  const auto has = [&](const char* word) { return std::ranges::find(words, word) != words.end(); };
  const bool makes_report = !words.empty() && (words.front() == "batch" || words.front() == "summary");
  const bool names_bench_file = words.size() > 1 && words[1].ends_with(".toml");  // which names files of its own
  if (!makes_report || has("--check-manifest") || names_bench_file) return;
  const std::string option = "--output";
  ResultOptions result;
  std::vector<std::string> inputs;
  for (auto word = words.begin() + 1; word != words.end(); ++word) {
    if (*word == option && word + 1 != words.end()) {
      result.output = *++word;
    } else if (word->starts_with(option + "=")) {
      result.output = word->substr(option.size() + 1);
    } else {
      inputs.push_back(*word);
      inputs.push_back(word->substr(word->find('=') + 1));  // of --manifest=FILE
    }
  }
  const bool was_there = is_plain_file(result);
  remove_earlier_report(result, inputs);
  if (was_there && !is_plain_file(result)) say_removed(*result.output);
}

}  // namespace windway::cli
