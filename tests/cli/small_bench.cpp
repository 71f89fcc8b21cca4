// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/small_bench.hpp"

#include <algorithm>
#include <stdexcept>

#include "cli/made_once.hpp"
#include "cli/run_program.hpp"
#include "support/bench_flutes.hpp"
#include "support/bench_takes.hpp"

namespace windway::cli_tests {
namespace {

const synthesis::BenchPlan& plan() {
  static const synthesis::BenchPlan small = [] {
    synthesis::BenchPlan drawn;
    drawn.instruments = 12;
    drawn.faults = 6;
    return drawn;
  }();
  return small;
}

const std::vector<synthesis::BenchTake>& takes() {
  static const auto all = synthesis::production_takes(synthesis::draw_bench(plan()), plan());
  return all;
}

void make_bench(const std::string& folder) {
  synthesis::write_bench_takes(takes(), folder);
  write_file(folder + "/manifest.csv", synthesis::bench_manifest(takes()));
  write_file(folder + "/d-whistle.toml", synthesis::bench_whistle_toml());
}

}  // namespace

const std::string& small_bench() {
  static const std::string place = made_once("small-bench", make_bench);
  return place;
}

std::string take_with(const std::string& fault, std::size_t place) {
  for (const synthesis::BenchTake& take : takes())
    if (take.flute.fault == fault && place-- == 0) return small_bench() + "/" + take.name() + ".flac";
  throw std::out_of_range("no such take: " + fault);
}

std::vector<std::string> good_takes() {
  std::vector<std::string> good;
  for (std::size_t place = 0; place < 6; ++place) good.push_back(take_with("", place));
  return good;
}

std::vector<std::string> batch_call(const std::vector<std::string>& words) {
  std::vector<std::string> call{"batch", "--instrument", small_bench() + "/d-whistle.toml", "--head-out",
                                "5",     "--warm"};
  call.insert(call.end(), words.begin(), words.end());
  return call;
}

std::vector<std::string> whole_bench_call(const std::vector<std::string>& words) {
  std::vector<std::string> call = batch_call({small_bench(), "--manifest", small_bench() + "/manifest.csv"});
  call.insert(call.end(), words.begin(), words.end());
  return call;
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  for (std::size_t begin = 0; begin < text.size();) {
    const std::size_t end = std::min(text.find('\n', begin), text.size());
    lines.push_back(text.substr(begin, end - begin));
    begin = end + 1;
  }
  return lines;
}

std::vector<std::string> sorted_lines(const std::string& text) {
  std::vector<std::string> lines = lines_of(text);
  std::ranges::sort(lines);
  return lines;
}

}  // namespace windway::cli_tests
