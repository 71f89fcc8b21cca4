// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <map>
#include <vector>

#include "verdict/hole_advice.hpp"

namespace windway {

/// How the cents of a bench are drawn, without any sound: 15 notes of a whistle on D5, all slides of their own.
struct BenchDraw {
  int instruments = 200;
  double note_sd_cents = 6.0;          ///< 0.9 of it the hole's, alike in both registers
  std::map<int, double> too_far_mm{};  ///< by degree: how much too far from the window its hole is on all of them
  double high_register_cents = 0.0;    ///< what the second register of `split_degree` is sharper by than the first
  int split_degree = -1;
  double model_sd_cents = 0.0;  ///< SD of common errors that every degree of the model has
  double heads_out_mm = 0.0;    ///< how far too far out the whole bench was recorded
  double wild_share = 0.0;      ///< half of these have one register 35 cents sharp, half one note 40
  double missing_share = 0.0;   ///< of the notes
};

struct DrawnBench {
  std::vector<InstrumentCents> instruments;
  std::map<int, double> common_cents;  ///< truth by degree, the heads' places aside
};

std::vector<PlaceOfNote> whistle_places();
DrawnBench draw_bench_cents(const BenchDraw& draw, std::uint64_t seed);

}  // namespace windway
