// SPDX-License-Identifier: GPL-3.0-or-later
// The JSON of a saved measurement: read back, told in every form, and used by the commands that take saved results.
#include "analysis.hpp"
#include "compare/compare.hpp"
#include "fuzz_input.hpp"
#include "json_mutation.hpp"
#include "report/measurement/json.hpp"
#include "report/measurement/saved.hpp"
#include "report/pages/player_pages.hpp"
#include "sound_measurement.hpp"
#include "well_formed.hpp"

namespace windway::fuzz {
namespace {

void use(const Measurement& saved) {
  const PageSource source{"1.2.3", "windway"};
  write_reports(saved);
  unless_refused([&] { require_well_formed(card_page(head_card(saved), saved, source)); });
  unless_refused([&] { require_well_formed(compare_page(compare(saved, saved, {}), saved, saved, source)); });
  MeasureSettings settings = saved.settings;
  settings.tuning.a4_hz = 442;
  unless_refused([&] { write_reports(retargeted(saved, settings)); });
}

/// What was read is written so that it can be read again.
void require_readable_again(const Measurement& saved) {
  const std::string json = json_report(saved, "1.2.3", Curves::written);
  try {
    measurement_from_json(json, "again.json");
  } catch (const Error& failure) {
    require(false, std::string("it reads back: ") + failure.what());
  }
}

}  // namespace
}  // namespace windway::fuzz

extern "C" std::size_t LLVMFuzzerCustomMutator(std::uint8_t* bytes, std::size_t count, std::size_t most,
                                               unsigned seed) {
  return windway::fuzz::mutated_json(bytes, count, most, seed);
}

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t count) {
  using namespace windway;
  fuzz::unless_refused([&] {
    const Measurement saved = measurement_from_json(fuzz::text_of(bytes, count), "saved.json");
    fuzz::use(saved);
    fuzz::require_readable_again(saved);
  });
  return 0;
}
