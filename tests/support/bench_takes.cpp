// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/bench_takes.hpp"

#include <algorithm>
#include <array>
#include <atomic>
#include <chrono>
#include <cstdio>
#include <future>

#include "support/sound_file.hpp"

namespace windway::synthesis {
namespace {

constexpr double rate_hz = 24000.0;
constexpr int a_day = 20;
constexpr std::array operators = {"Ada", "Bo", "Cem", "Dag"};
constexpr std::array<double, 4> harder_doublings = {0.0, 0.03, -0.02, 0.01};
constexpr double blow_sd_doublings = 0.02;  // no two blows are quite alike
constexpr Timing short_blows{{0.37, 0.40}, {0.07, 0.09}};

/// Working days from Monday 2026-03-02 on.
std::string time_text(int working_day, int minutes_past_eight) {
  using namespace std::chrono;
  const int days_on = working_day / 5 * 7 + working_day % 5;
  const year_month_day day{sys_days{2026y / March / 2} + days{days_on}};
  char text[48];
  std::snprintf(text, sizeof text, "%04d-%02u-%02uT%02d:%02d:00", static_cast<int>(day.year()),
                static_cast<unsigned>(day.month()), static_cast<unsigned>(day.day()), 8 + minutes_past_eight / 60,
                minutes_past_eight % 60);
  return text;
}

std::size_t operator_index(const std::string& name) {
  return static_cast<std::size_t>(std::ranges::find(operators, name) - operators.begin());
}

std::vector<Blowing> blown_by(std::size_t player, const std::vector<int>& notes, Random& random) {
  auto blowings = note_by_note(notes, {Blow::soft, Blow::moderate, Blow::hard}, bench_strengths(), short_blows, random);
  for (Blowing& blowing : blowings) {
    const double off = random.normal(harder_doublings[player], blow_sd_doublings);
    blowing.from_doublings += off;
    blowing.to_doublings += off;
  }
  return blowings;
}

Performance performance(bool silent) {
  Performance performance;
  performance.rate_hz = rate_hz;
  performance.chain.peak = silent ? 0.0 : 0.08;
  performance.chain.floor_db = -90.0;
  return performance;
}

BenchTake take_of(const BenchFlute& flute, std::uint64_t seed) {
  BenchTake take;
  take.flute = flute;
  take.seed = seed;
  return take;
}

std::string row_of(const BenchTake& take) {
  char head_out[16];
  std::snprintf(head_out, sizeof head_out, "%.1f", take.flute.head_out_mm);
  return take.name() + ".flac," + take.flute.serial + "," + take.stage + "," + take.lot + "," + take.material + "," +
         take.head + "," + take.operator_name + ",25.0," + head_out + "," + take.recorded_at + "," + take.remark + "\n";
}

}  // namespace

std::string BenchTake::name() const { return flute.serial + "_" + stage + "_" + std::to_string(retake); }

std::vector<BenchTake> production_takes(const std::vector<BenchFlute>& bench, const BenchPlan& plan) {
  constexpr std::array materials = {"boxwood", "pear", "maple"};
  std::vector<BenchTake> takes;
  for (std::size_t i = 0; i < bench.size(); ++i) {
    BenchTake take = take_of(bench[i], plan.seed * 1000003 + 500000 + i);
    const int day = static_cast<int>(i) / a_day;
    take.lot = "L" + std::to_string(1 + i / 25);
    take.material = materials[i / 10 % materials.size()];
    take.head = i % 3 == 0 ? "H2" : "H1";
    take.operator_name = operators[i / 4 % 2];
    take.recorded_at = time_text(day, 60 + 20 * (static_cast<int>(i) % a_day));
    take.measured_sharp_cents = day * plan.drift_cents_per_day;
    takes.push_back(take);
  }
  return takes;
}

std::vector<BenchTake> keeper_takes(const BenchFlute& keeper, int days, const BenchPlan& plan) {
  std::vector<BenchTake> takes;
  for (int day = 0; day < days; ++day) {
    BenchTake take = take_of(keeper, plan.seed * 1000003 + 700000 + static_cast<std::uint64_t>(day));
    take.stage = "keeper";
    take.retake = 1 + day;
    take.lot = "L0";
    take.material = "boxwood";
    take.head = "H1";
    take.operator_name = operators[0];
    take.recorded_at = time_text(day, 30);
    take.measured_sharp_cents = day * plan.drift_cents_per_day;
    takes.push_back(take);
  }
  return takes;
}

std::vector<BenchTake> gauge_takes(const std::vector<BenchFlute>& bench, int parts, int operator_count, int trials,
                                   const BenchPlan& plan) {
  std::vector<BenchTake> good = production_takes(bench, plan);
  std::erase_if(good, [](const BenchTake& take) { return !take.flute.fault.empty(); });
  good.resize(std::min(good.size(), static_cast<std::size_t>(parts)));
  const int day = (static_cast<int>(bench.size()) + a_day - 1) / a_day;
  std::vector<BenchTake> takes;
  for (int trial = 0; trial < trials; ++trial) {
    for (int player = 0; player < operator_count; ++player) {
      for (BenchTake take : good) {
        const auto number = takes.size();
        take.seed = plan.seed * 1000003 + 800000 + number;
        take.stage = "gauge";
        take.retake = trial * operator_count + player + 1;
        take.operator_name = operators.at(static_cast<std::size_t>(player));
        take.recorded_at = time_text(day + static_cast<int>(number) / 100, 60 + 4 * (static_cast<int>(number) % 100));
        take.measured_sharp_cents = 0.0;
        takes.push_back(take);
      }
    }
  }
  return takes;
}

SyntheticTake play(const BenchTake& take) {
  Random random(take.seed);
  FluteModel flute = take.flute.as_recorded;
  for (NoteModel& note : flute.notes) note.error_cents += take.measured_sharp_cents;
  const bool silent = take.flute.fault == "silent take";
  const auto blowings = blown_by(operator_index(take.operator_name), bench_notes(flute), random);
  SyntheticTake sound = synthesise_take(flute, blowings, performance(silent), random);
  if (silent) sound.holds.clear();
  return sound;
}

void write_bench_takes(const std::vector<BenchTake>& takes, const std::string& folder, int threads) {
  std::atomic<std::size_t> next = 0;
  const auto work = [&] {
    for (std::size_t i = next++; i < takes.size(); i = next++) {
      const SyntheticTake sound = play(takes[i]);
      write_sound(folder + "/" + takes[i].name() + ".flac", sound.samples, sound.rate_hz);
    }
  };
  std::vector<std::future<void>> others;
  for (int t = 1; t < threads; ++t) others.push_back(std::async(std::launch::async, work));
  work();
  for (auto& other : others) other.get();  // what failed there is thrown here
}

std::string bench_manifest(const std::vector<BenchTake>& takes) {
  std::string text = "take,serial,stage,lot,material,head,operator,bore_temp_c,head_out_mm,recorded_at,remark\n";
  for (const BenchTake& take : takes) text += row_of(take);
  return text;
}

std::string bench_whistle_toml() {
  return R"(# The model of an invented maker's bench: Hesper Wrackle's whistle in D. No such instrument exists.
name = "Wrackle whistle in D"
kind = "whistle"
lowest = "D5"
notes = ["D5", "E5", "F#5", "G5", "A5", "B5", "C#6", "D6", "E6", "F#6", "G6", "A6", "B6", "C#7", "D7"]
a4_hz = 440
tolerance_cents = 25  # how far off a note may be at the head's best place
max_spread_cents = 60  # from soft to hard, of any note

[head]
travel_mm = 12
out_range_mm = [2, 8]  # where its best place must be

[maker]
name = "Hesper Wrackle"
address = ["3 Osier Lane", "Quillhaven"]
model = "Wrackle whistle in D"
)";
}

}  // namespace windway::synthesis
