// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/small_bench.hpp"

#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <stdexcept>

#include "cli/run_program.hpp"
#include "support/bench_flutes.hpp"
#include "support/bench_takes.hpp"

namespace windway::cli_tests {
namespace {

namespace fs = std::filesystem;

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

/// Each test is a process of its own, and several run at once: whoever is first makes it, in a folder of its own that
/// then takes the name. A newly built test program makes a new one.
std::string made() {
  const auto built = fs::last_write_time("/proc/self/exe").time_since_epoch().count();
  const fs::path place = fs::path(WINDWAY_BUILD_DIR) / ("small-bench-" + std::to_string(built));
  if (fs::exists(place)) return place.string();
  const fs::path passing = place.string() + "." + std::to_string(getpid());
  fs::create_directories(passing);
  synthesis::write_bench_takes(takes(), passing.string());
  write_file((passing / "manifest.csv").string(), synthesis::bench_manifest(takes()));
  write_file((passing / "d-whistle.toml").string(), synthesis::bench_whistle_toml());
  std::error_code another_was_first;
  fs::rename(passing, place, another_was_first);
  if (another_was_first) fs::remove_all(passing);
  for (const auto& entry : fs::directory_iterator(WINDWAY_BUILD_DIR)) {
    const std::string name = entry.path().filename().string();
    const bool is_of_an_older_program =
        name.starts_with("small-bench-") && !name.starts_with(place.filename().string());
    if (is_of_an_older_program) fs::remove_all(entry.path(), another_was_first);
  }
  return place.string();
}

}  // namespace

const std::string& small_bench() {
  static const std::string place = made();
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
