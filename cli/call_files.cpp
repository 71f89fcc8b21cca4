// SPDX-License-Identifier: GPL-3.0-or-later
#include "call_files.hpp"

#include <algorithm>
#include <filesystem>
#include <system_error>

#include "manifest/sound_endings.hpp"
#include "options.hpp"
#include "report/wording/layout.hpp"
#include "terminal.hpp"

namespace windway::cli {

bool is_same_file(const std::string& path, const std::string& other) {
  std::error_code failure;
  return path == other || std::filesystem::equivalent(path, other, failure);
}

std::vector<std::string> files_of(const TakeOptions& take) { return {take.pitch.partner, take.flute.instrument}; }

void refuse_overwriting(const std::string& option, const std::string& output, const std::vector<std::string>& inputs) {
  for (const std::string& input : inputs)
    if (!input.empty() && is_same_file(input, output))
      refuse(std::string(option).append(" would overwrite ").append(input).append(", which this run reads"));
}

void refuse_replacing_sound(const std::string& option, const std::string& output) {
  std::error_code failure;
  if (has_sound_ending(output) && std::filesystem::is_regular_file(output, failure))
    refuse(std::string(option)
               .append(" would replace ")
               .append(output)
               .append(", which is named as a recording; give another name, or delete it first"));
}

std::unique_ptr<OutputFile> open_result(const ResultOptions& result, const std::vector<std::string>& inputs) {
  if (result.output && result.output->empty()) refuse("--output needs the name of a file");
  if (!result.output || *result.output == "-") return nullptr;
  refuse_overwriting("--output", *result.output, inputs);
  refuse_replacing_sound("--output", *result.output);
  return std::make_unique<OutputFile>(*result.output);
}

std::size_t columns_for(const ResultOptions& result) {
  const bool goes_to_file = result.output && *result.output != "-";
  return goes_to_file ? text_columns : columns_of_output();
}

void write_result(const std::unique_ptr<OutputFile>& file, const std::string& report) {
  file ? file->finish(report) : print(report);
}

void check_recordings(const std::vector<std::string>& recordings, const std::string& question) {
  if (recordings.empty()) refuse(question);
  for (auto path = recordings.begin(); path != recordings.end(); ++path)
    if (std::any_of(recordings.begin(), path, [&](const auto& before) { return is_same_file(before, *path); }))
      refuse("the same recording is given twice: " + *path);
}

}  // namespace windway::cli
