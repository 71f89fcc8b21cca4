// SPDX-License-Identifier: GPL-3.0-or-later
// An instrument file; what was read is written as a file that says the same instrument.
#include <tuple>

#include "fuzz_input.hpp"
#include "instrument/instrument_file.hpp"
#include "instrument/instrument_toml.hpp"

namespace windway::fuzz {
namespace {

auto as_tuple(const ScaleNote& note) {
  return std::tie(note.id, note.register_number, note.weight, note.can_check, note.target_cents, note.tolerance_cents,
                  note.max_spread_cents);
}

template <typename Record, typename AsTuple>
bool are_alike(const std::optional<Record>& one, const std::optional<Record>& other, const AsTuple& tuple_of) {
  return one.has_value() == other.has_value() && (!one || tuple_of(*one) == tuple_of(*other));
}

bool are_alike(const Instrument& one, const Instrument& other) {
  const auto figures = [](const Instrument& each) {
    return std::tie(each.name, each.kind, each.lowest_midi, each.travel_mm, each.head_moves, each.a4_hz,
                    each.stretch_cents_per_octave, each.tolerance_cents, each.max_spread_cents, each.quote_at_c,
                    each.max_octave_cents, each.note_names, each.maker);
  };
  const auto range = [](const HeadRange& each) { return std::tie(each.min_mm, each.max_mm); };
  const auto factor = [](const SlideFactor& each) { return std::tie(each.factor, each.u95); };
  const auto temperament = [](const Temperament& each) {
    return std::tie(each.name, each.key_pitch_class, each.own_cents);
  };
  return figures(one) == figures(other) && are_alike(one.head_out_range_mm, other.head_out_range_mm, range) &&
         are_alike(one.slide_factor, other.slide_factor, factor) &&
         are_alike(one.temperament, other.temperament, temperament) &&
         std::ranges::equal(one.scale, other.scale,
                            [](const ScaleNote& a, const ScaleNote& b) { return as_tuple(a) == as_tuple(b); });
}

void require_reads_back(const std::string& toml, const Instrument& instrument) {
  try {
    require(are_alike(instrument_from_toml(toml, "again.toml"), instrument), "it reads back as the same:\n" + toml);
  } catch (const Error& mistake) {
    require(false, std::string("it reads back: ") + mistake.what() + "\n" + toml);
  }
}

}  // namespace
}  // namespace windway::fuzz

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t count) {
  using namespace windway;
  fuzz::unless_refused([&] {
    const Instrument instrument = instrument_from_toml(fuzz::text_of(bytes, count), "flute.toml");
    fuzz::require_reads_back(instrument_toml(instrument), instrument);
    fuzz::require_reads_back(begun_instrument_toml(instrument, {instrument.lowest_midi}), instrument);
  });
  return 0;
}
