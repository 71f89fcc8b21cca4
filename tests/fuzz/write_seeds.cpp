// SPDX-License-Identifier: GPL-3.0-or-later
// usage: windway_fuzz_seeds FOLDER TAKE
// Writes what windway makes of a take and of an invented measurement into FOLDER/TARGET/, for the targets to begin
// with.
#include <filesystem>
#include <fstream>

#include "analysis.hpp"
#include "instrument/instrument_toml.hpp"
#include "report/lines/made_up_line.hpp"
#include "report/measurement/json.hpp"

namespace {

using namespace windway;
using Folder = std::filesystem::path;

void write(const Folder& file, const std::string& text) {
  std::filesystem::create_directories(file.parent_path());
  std::ofstream(file, std::ios::binary) << text;
}

void write_saved(const Folder& folder, const std::string& name, const Measurement& measurement) {
  write(folder / "saved" / (name + ".json"), json_report(measurement, "1.2.3", Curves::written));
  write(folder / "instrument" / (name + ".toml"), begun_instrument_toml(measurement.naming.instrument, {}));
}

void write_line(const Folder& folder, const std::string& name, JudgedTake take) {
  for (const bool with_holds : {false, true}) {
    take.with_holds = with_holds;
    write(folder / "lines" / (name + (with_holds ? "-holds.jsonl" : ".jsonl")), report_tests::line_of(take));
  }
}

}  // namespace

int main(int count, char** words) {
  if (count != 3) return 2;
  const Folder folder = words[1];
  const Measurement measured = measure({words[2]}, {});
  write_saved(folder, "invented", report_tests::invented_measurement());
  write_saved(folder, "measured", measured);
  JudgedTake take = report_tests::judged_take();
  write_line(folder, "invented", take);
  take.measurement = measured;
  take.verdict = judge(measured, {.tolerance_cents = 12, .max_spread_cents = 30});
  write_line(folder, "measured", take);
}
