// SPDX-License-Identifier: GPL-3.0-or-later
#include "bench_truth.hpp"

#include <cmath>
#include <nlohmann/json.hpp>

namespace windway::samples {
namespace {

using nlohmann::ordered_json;
using namespace synthesis;

double rounded(double value) { return std::round(value * 1e4) / 1e4; }

ordered_json notes_json(const BenchTake& take) {
  ordered_json notes = ordered_json::array();
  for (std::size_t i = 0; i < take.flute.notes.size(); ++i) {
    const TrueNote& note = take.flute.notes[i];
    notes.push_back({{"midi", note.midi},
                     {"register", note.register_number},
                     {"moderate_cents", rounded(note.moderate_cents + take.measured_sharp_cents)},
                     {"spread_cents", rounded(*note.spread_cents)},
                     {"moved_cents", rounded(take.flute.moved_moderate_cents[i])}});
  }
  return notes;
}

ordered_json take_json(const BenchTake& take) {
  const BenchFlute& flute = take.flute;
  return {{"take", take.name() + ".flac"},
          {"serial", flute.serial},
          {"stage", take.stage},
          {"operator", take.operator_name},
          {"fault", flute.fault.empty() ? ordered_json(nullptr) : ordered_json(flute.fault)},
          {"off_midi", flute.off_midi ? ordered_json(*flute.off_midi) : ordered_json(nullptr)},
          {"head_out_mm", flute.head_out_mm},
          {"slide_mm", rounded(flute.best.slide_mm)},
          {"rest_out_mm", rounded(flute.head_out_mm + flute.best.slide_mm)},
          {"measured_sharp_cents", rounded(take.measured_sharp_cents)},
          {"notes", notes_json(take)}};
}

}  // namespace

std::string bench_truth_json(const std::vector<BenchTake>& takes, const BenchPlan& plan) {
  ordered_json out = {{"schema", "windway.bench_truth.v1"},
                      {"invented", true},
                      {"seed", plan.seed},
                      {"note_sd_cents", plan.note_sd_cents},
                      {"hole", {{"degree_semitones", plan.hole_semitones}, {"too_far_mm", plan.hole_error_mm}}},
                      {"drift_cents_per_day", plan.drift_cents_per_day},
                      {"takes", ordered_json::array()}};
  for (const BenchTake& take : takes) out["takes"].push_back(take_json(take));
  return out.dump() + "\n";
}

}  // namespace windway::samples
