// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "support/bench_flutes.hpp"
#include "support/take.hpp"

namespace windway::synthesis {

/// One recording of an instrument of the bench, with what the manifest says of it; lot, material, head and operator are
/// invented, and nothing in the sound hangs on them, but that Bo blows a little harder than Ada.
struct BenchTake {
  BenchFlute flute;
  std::string stage = "final";
  int retake = 1;
  std::string lot, material, head, operator_name, recorded_at, remark;
  double measured_sharp_cents = 0.0;  ///< what a drift of the measuring adds to every note
  std::uint64_t seed = 0;             ///< of the breath

  std::string name() const;  ///< "HW-1001_final_1"
};

/// Twenty instruments a day from 2026-03-02 on, each recorded once, in the order of production.
std::vector<BenchTake> production_takes(const std::vector<BenchFlute>& bench, const BenchPlan& plan);

/// The keeper on the morning of each day: the same flute with its head in the same place, new breath.
std::vector<BenchTake> keeper_takes(const BenchFlute& keeper, int days, const BenchPlan& plan);

/// A gauge study: the first `parts` good instruments, each taken `trials` times by each of `operators` (Ada, Bo, Cem,
/// ...; at most four), stage "gauge", heads untouched, new breath each time.
std::vector<BenchTake> gauge_takes(const std::vector<BenchFlute>& bench, int parts, int operators, int trials,
                                   const BenchPlan& plan);

/// Two octaves of 15 notes, each soft, moderate and hard, about 25 s at 24 kHz; a silent take is as long, without a
/// note. The same take gives the same sound.
SyntheticTake play(const BenchTake& take);

/// Writes NAME.flac of every take into the folder, which must be there.
void write_bench_takes(const std::vector<BenchTake>& takes, const std::string& folder, int threads = 2);

/// take,serial,stage,lot,material,head,operator,bore_temp_c,head_out_mm,recorded_at,remark
std::string bench_manifest(const std::vector<BenchTake>& takes);

/// The maker's instrument file.
std::string bench_whistle_toml();

}  // namespace windway::synthesis
