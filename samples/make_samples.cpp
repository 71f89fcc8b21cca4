// SPDX-License-Identifier: GPL-3.0-or-later
// Makes the takes of the invented bench and says what is true of each: see samples/README.md.
#include <fmt/format.h>

#include <charconv>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <exception>
#include <filesystem>
#include <fstream>
#include <stdexcept>
#include <string>
#include <system_error>
#include <vector>

#include "sample_truth.hpp"
#include "support/sound_file.hpp"

namespace {

using namespace windway::samples;

constexpr const char* help =
    "usage: make_samples OUTDIR [--seed N] [--only NAME] [--rate HZ] [--wav] [--curves]\n\n"
    "Writes the takes of an invented maker's bench as FLAC, 16 bits, and NAME.truth.json beside each;\n"
    "prints what is true of them as a table.\n\n"
    "  --seed N     another bench: other flutes, other breath (default 412, the takes in samples/takes)\n"
    "  --only NAME  this take alone\n"
    "  --rate HZ    sample rate (default 24000)\n"
    "  --wav        WAV in place of FLAC\n"
    "  --curves     the pitch of every hold, each 5 ms, in the truth too\n";

struct Options {
  std::string folder;
  std::uint64_t seed = 412;
  std::string only;
  double rate_hz = 24000.0;
  bool wav = false;
  bool curves = false;
};

double number(const std::string& option, const std::string& text, double least, double most) {
  double value = 0.0;
  const auto [end, failed] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (failed != std::errc{} || end != text.data() + text.size() || !(value >= least && value <= most)) {
    throw std::invalid_argument(fmt::format("{} takes a number from {} to {}, not {}\n", option, least, most, text));
  }
  return value;
}

/// Takes the value that follows an option.
void set_value(Options& options, const std::string& option, const std::string& value) {
  if (option == "--seed") {
    options.seed = static_cast<std::uint64_t>(number(option, value, 0, 4294967295.0));
  } else if (option == "--only") {
    options.only = value;
  } else {
    options.rate_hz = number(option, value, 8000, 192000);
  }
}

Options read_options(const std::vector<std::string>& words) {
  Options options;
  for (std::size_t i = 0; i < words.size(); ++i) {
    const std::string& word = words[i];
    if (word == "--wav") {
      options.wav = true;
    } else if (word == "--curves") {
      options.curves = true;
    } else if (word == "--seed" || word == "--only" || word == "--rate") {
      if (++i == words.size()) throw std::invalid_argument(help);
      set_value(options, word, words[i]);
    } else if (word.starts_with("-") || !options.folder.empty()) {
      throw std::invalid_argument(help);
    } else {
      options.folder = word;
    }
  }
  if (options.folder.empty()) throw std::invalid_argument(help);
  return options;
}

std::vector<SampleTake> wanted_takes(const std::string& only) {
  std::vector<SampleTake> takes = bench_takes();
  if (only.empty()) return takes;
  std::string names;
  for (const SampleTake& take : takes) names += "  " + take.name + "\n";
  std::erase_if(takes, [&](const SampleTake& take) { return take.name != only; });
  if (takes.empty()) throw std::invalid_argument(fmt::format("no take is called {}; there are\n{}", only, names));
  return takes;
}

void write_take(const MadeTake& take, const Options& options) {
  using namespace windway::synthesis;
  const std::string stem = options.folder + "/" + take.plan.name;
  const std::string path = stem + (options.wav ? ".wav" : ".flac");
  if (take.plan.one_microphone_dead) {
    write_sound(path, beside_a_dead_channel(take.sound.samples), take.sound.rate_hz, 2);
  } else {
    write_sound(path, take.sound.samples, take.sound.rate_hz);
  }
  std::ofstream truth(stem + ".truth.json");
  truth << truth_json(take, options.seed, options.curves);
  if (!truth.flush()) throw std::runtime_error("cannot write " + stem + ".truth.json");
}

void make_all(const Options& options) {
  const std::vector<SampleTake> plans = wanted_takes(options.only);
  std::filesystem::create_directories(options.folder);
  fmt::print("{}", truth_heading());
  for (const SampleTake& plan : plans) {
    const MadeTake take = make_take(plan, options.seed, options.rate_hz);
    write_take(take, options);
    fmt::print("{}", truth_row(take));
  }
}

}  // namespace

int main(int argc, char** argv) {
  try {
    make_all(read_options({argv + 1, argv + argc}));
  } catch (const std::invalid_argument& e) {
    fmt::print(stderr, "{}", e.what());
    return 2;
  } catch (const std::exception& e) {
    fmt::print(stderr, "make_samples: {}\n", e.what());
    return 4;
  }
  return EXIT_SUCCESS;
}
