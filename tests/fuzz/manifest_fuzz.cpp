// SPDX-License-Identifier: GPL-3.0-or-later
// A manifest, and the jobs that it makes.
#include "fuzz_input.hpp"
#include "takes/jobs.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t count) {
  using namespace windway;
  fuzz::unless_refused([&] {
    const Manifest manifest = manifest_from_csv(fuzz::text_of(bytes, count), "bench/manifest.csv");
    const BatchList list = batch_jobs({}, manifest, {});
    fuzz::require(list.jobs.size() == manifest.rows.size(), "each row is a job");
  });
  return 0;
}
