// SPDX-License-Identifier: GPL-3.0-or-later
// A bench file.
#include "fuzz_input.hpp"
#include "results/bench_file.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t count) {
  using namespace windway;
  fuzz::unless_refused([&] { bench_file_from_toml(fuzz::text_of(bytes, count), "bench/bench.toml"); });
  return 0;
}
