// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/sample_takes.hpp"

#include <iterator>
#include <sstream>

#include "cli/run_program.hpp"
#include "golden/table.hpp"

namespace windway::cli_tests {
namespace {

std::vector<std::string> words_of(const std::string& text) {
  std::istringstream words(text);
  return {std::istream_iterator<std::string>(words), {}};
}

std::vector<SampleTake> read_samples() {
  const test::Table table(read_file(std::string(WINDWAY_TESTS_DIR) + "/golden/pages/calls.csv"));
  std::vector<SampleTake> samples;
  for (std::size_t row = 0; row < table.rows(); ++row)
    samples.push_back({table.cell(row, "take"), words_of(table.cell(row, "said"))});
  return samples;
}

}  // namespace

const std::vector<SampleTake>& samples() {
  static const std::vector<SampleTake> all = read_samples();
  return all;
}

std::vector<std::string> call_of(const SampleTake& sample, const std::vector<std::string>& more) {
  std::vector<std::string> call{"measure", std::string(WINDWAY_SAMPLES_DIR) + "/takes/" + sample.name + ".flac"};
  call.insert(call.end(), sample.said.begin(), sample.said.end());
  call.insert(call.end(), more.begin(), more.end());
  return call;
}

}  // namespace windway::cli_tests
