// SPDX-License-Identifier: GPL-3.0-or-later
// Makes the recordings of a whole invented bench and says what is true of it: see samples/README.md.
#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cstdio>
#include <cstdlib>
#include <exception>
#include <filesystem>
#include <fstream>
#include <stdexcept>
#include <string>
#include <vector>

#include "bench_truth.hpp"

namespace {

using namespace windway::samples;
using namespace windway::synthesis;

constexpr const char* help =
    "usage: make_bench OUTDIR [OPTIONS]\n\n"
    "Writes one take of each instrument of an invented bench as FLAC, with manifest.csv, d-whistle.toml (the maker's\n"
    "instrument file), bench.toml (for windway batch) and truth.json: whistles in D of one model, two octaves, each "
    "note soft, moderate, hard.\n\n"
    "  --instruments N     how many (default 200)\n"
    "  --seed N            another bench (default 5)\n"
    "  --note-sd CENTS     SD of each note's own error (default 6)\n"
    "  --hole-error MM     how much too far from the window one hole is on all of them (default 0.8)\n"
    "  --hole SEMITONES    which hole: its degree above the lowest note (default 7)\n"
    "  --faults N          instruments with a planted fault (default 10)\n"
    "  --keeper DAYS       the bench's own flute, HW-0001, every morning as well (default 0)\n"
    "  --drift CENTS       how much sharper everything is measured each day (default 0)\n"
    "  --gauge PARTS,OPERATORS,TRIALS  retakes of the first good instruments, for a gauge study\n"
    "  --threads N         how many write at once (default 2)\n"
    "  --no-sound          everything but the takes\n";

struct Options {
  std::string folder;
  BenchPlan plan;
  int keeper_days = 0;
  std::vector<int> gauge;  // parts, operators, trials
  int threads = 2;
  bool sound = true;
};

double number(const std::string& option, const std::string& text, double least, double most) {
  double value = 0.0;
  const auto [end, failed] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (failed != std::errc{} || end != text.data() + text.size() || !(value >= least && value <= most)) {
    throw std::invalid_argument(fmt::format("{} takes a number from {} to {}, not {}\n", option, least, most, text));
  }
  return value;
}

int whole(const std::string& option, const std::string& text, int least, int most) {
  return static_cast<int>(number(option, text, least, most));
}

std::vector<int> gauge_study(const std::string& option, const std::string& text) {
  std::vector<int> numbers;
  for (std::size_t from = 0; from <= text.size() && numbers.size() < 3;) {
    const std::size_t comma = std::min(text.find(',', from), text.size());
    numbers.push_back(whole(option, text.substr(from, comma - from), 1, numbers.size() == 1 ? 4 : 1000));
    from = comma + 1;
  }
  if (numbers.size() != 3) throw std::invalid_argument(help);
  return numbers;
}

void set_value(Options& options, const std::string& option, const std::string& value) {
  if (option == "--instruments") {
    options.plan.instruments = whole(option, value, 1, 100000);
  } else if (option == "--seed") {
    options.plan.seed = static_cast<std::uint64_t>(number(option, value, 0, 4294967295.0));
  } else if (option == "--note-sd") {
    options.plan.note_sd_cents = number(option, value, 0, 8);  // beyond that hardly any is drawn good
  } else if (option == "--hole-error") {
    options.plan.hole_error_mm = number(option, value, -2, 2);
  } else if (option == "--hole") {
    options.plan.hole_semitones = whole(option, value, 0, 11);
  } else if (option == "--faults") {
    options.plan.faults = whole(option, value, 0, 1000);
  } else if (option == "--keeper") {
    options.keeper_days = whole(option, value, 0, 1000);
  } else if (option == "--drift") {
    options.plan.drift_cents_per_day = number(option, value, -5, 5);
  } else if (option == "--gauge") {
    options.gauge = gauge_study(option, value);
  } else if (option == "--threads") {
    options.threads = whole(option, value, 1, 64);
  } else {
    throw std::invalid_argument(help);
  }
}

Options read_options(const std::vector<std::string>& words) {
  Options options;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (words[i] == "--no-sound") {
      options.sound = false;
    } else if (words[i].starts_with("--")) {
      if (i + 1 == words.size()) throw std::invalid_argument(help);
      set_value(options, words[i], words[i + 1]);
      ++i;
    } else if (!options.folder.empty()) {
      throw std::invalid_argument(help);
    } else {
      options.folder = words[i];
    }
  }
  const bool too_many_faults = options.plan.faults > options.plan.instruments;
  if (options.folder.empty() || too_many_faults) throw std::invalid_argument(help);
  return options;
}

std::vector<BenchTake> takes_of(const Options& options) {
  const auto bench = draw_bench(options.plan);
  std::vector<BenchTake> takes = production_takes(bench, options.plan);
  const auto add = [&](const std::vector<BenchTake>& more) { takes.insert(takes.end(), more.begin(), more.end()); };
  if (options.keeper_days > 0) add(keeper_takes(draw_keeper(options.plan), options.keeper_days, options.plan));
  if (const auto& gauge = options.gauge; !gauge.empty())
    add(gauge_takes(bench, gauge[0], gauge[1], gauge[2], options.plan));
  return takes;
}

void write_text(const std::string& path, const std::string& text) {
  std::ofstream out(path);
  out << text;
  if (!out.flush()) throw std::runtime_error("cannot write " + path);
}

void make(const Options& options) {
  const std::vector<BenchTake> takes = takes_of(options);
  std::filesystem::create_directories(options.folder);
  write_text(options.folder + "/manifest.csv", bench_manifest(takes));
  write_text(options.folder + "/d-whistle.toml", bench_whistle_toml());
  write_text(options.folder + "/bench.toml", "instrument = \"d-whistle.toml\"\nmanifest = \"manifest.csv\"\n");
  write_text(options.folder + "/truth.json", bench_truth_json(takes, options.plan));
  if (options.sound) write_bench_takes(takes, options.folder, options.threads);
  fmt::print("{} takes in {}\n", takes.size(), options.folder);
}

}  // namespace

int main(int argc, char** argv) {
  try {
    make(read_options({argv + 1, argv + argc}));
  } catch (const std::invalid_argument& e) {
    fmt::print(stderr, "{}", e.what());
    return 2;
  } catch (const std::exception& e) {
    fmt::print(stderr, "make_bench: {}\n", e.what());
    return 4;
  }
  return EXIT_SUCCESS;
}
