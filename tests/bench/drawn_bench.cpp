// SPDX-License-Identifier: GPL-3.0-or-later
#include "drawn_bench.hpp"

#include <array>
#include <cmath>

#include "support/random.hpp"
#include "units/units.hpp"

namespace windway {
namespace {

using synthesis::Random;

constexpr int lowest_midi = 74;              // D5
constexpr double sound_mm_per_s = 346267.7;  // 25 degrees C, Cramer 1993
constexpr double slide_sd_mm = 0.7;
constexpr double hole_share = 0.9;

int degree_of(const PlaceOfNote& place) { return place.semitones_above_lowest - (place.register_number == 2 ? 12 : 0); }

double law_cents(double length_mm, double out_mm) { return -cents_per_neper * std::log(1.0 + out_mm / length_mm); }

InstrumentCents draw_instrument(const BenchDraw& draw, const DrawnBench& bench, Random& random) {
  std::array<double, 13> hole_cents{};
  for (double& cents : hole_cents) cents = random.normal(0.0, hole_share * draw.note_sd_cents);
  const double slide_mm = random.normal(draw.heads_out_mm, slide_sd_mm);
  const bool wild = random.chance(draw.wild_share), wild_register = random.chance(0.5);
  InstrumentCents instrument;
  for (const PlaceOfNote& place : whistle_places()) {
    const int degree = degree_of(place);
    double cents = hole_cents[static_cast<std::size_t>(degree)] + bench.common_cents.at(degree);
    cents += random.normal(0.0, std::sqrt(1.0 - hole_share * hole_share) * draw.note_sd_cents);
    cents += law_cents(place.effective_length_mm, slide_mm);
    if (degree == draw.split_degree) cents += (place.register_number == 2 ? 0.5 : -0.5) * draw.high_register_cents;
    if (wild && wild_register && place.register_number == 2) cents += 35.0;
    if (wild && !wild_register && place.id.midi == lowest_midi + 7) cents += 40.0;
    const bool missing = random.chance(draw.missing_share);
    instrument.moderate_cents.push_back(missing ? std::nullopt : std::optional(cents));
  }
  return instrument;
}

}  // namespace

std::vector<PlaceOfNote> whistle_places() {
  std::vector<PlaceOfNote> places;
  for (const int up : {0, 2, 4, 5, 7, 9, 11, 12, 14, 16, 17, 19, 21, 23, 24}) {
    const double hz = 440.0 * std::exp2((lowest_midi + up - 69) / 12.0);
    const int register_number = up >= 12 ? 2 : 1;
    places.push_back({{lowest_midi + up}, register_number, up, register_number * sound_mm_per_s / (2.0 * hz)});
  }
  return places;
}

DrawnBench draw_bench_cents(const BenchDraw& draw, std::uint64_t seed) {
  Random random(seed);
  DrawnBench bench;
  for (const PlaceOfNote& place : whistle_places()) {
    const int degree = degree_of(place);
    if (bench.common_cents.contains(degree)) continue;
    const auto hole = draw.too_far_mm.find(degree);
    const double too_far_mm = hole == draw.too_far_mm.end() ? 0.0 : hole->second;
    bench.common_cents[degree] =
        law_cents(place.effective_length_mm, too_far_mm) + random.normal(0.0, draw.model_sd_cents);
  }
  for (int i = 0; i < draw.instruments; ++i) bench.instruments.push_back(draw_instrument(draw, bench, random));
  return bench;
}

}  // namespace windway
