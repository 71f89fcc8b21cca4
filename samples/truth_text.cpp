// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <array>
#include <cmath>
#include <nlohmann/json.hpp>

#include "sample_truth.hpp"

namespace windway::samples {
namespace {

using nlohmann::ordered_json;
using namespace synthesis;

std::string note_text(int midi) {
  constexpr std::array names = {"C", "C#", "D", "D#", "E", "F", "F#", "G", "G#", "A", "A#", "B"};
  return fmt::format("{}{}", names[static_cast<std::size_t>(midi % 12)], midi / 12 - 1);
}

std::string blow_text(Blow blow) {
  constexpr std::array names = {"soft", "moderate", "hard", "swell"};
  return names[static_cast<std::size_t>(blow)];
}

double rounded(double value, double places) { return std::round(value * places) / places; }

ordered_json optional_json(const std::optional<double>& value) {
  return value ? ordered_json(rounded(*value, 1e4)) : ordered_json(nullptr);
}

ordered_json note_json(const TrueNote& note) {
  return {{"note", note_text(note.midi)},
          {"midi", note.midi},
          {"register", note.register_number},
          {"target_hz", rounded(note.target_hz, 1e6)},
          {"soft_cents", optional_json(note.soft_cents)},
          {"moderate_cents", rounded(note.moderate_cents, 1e4)},
          {"hard_cents", optional_json(note.hard_cents)},
          {"spread_cents", optional_json(note.spread_cents)}};
}

ordered_json hold_json(const TrueHold& hold, bool with_curve) {
  ordered_json out = {{"note", note_text(hold.midi)},
                      {"midi", hold.midi},
                      {"blow", blow_text(hold.blow)},
                      {"start_s", rounded(hold.start_s, 1e6)},
                      {"end_s", rounded(hold.end_s, 1e6)},
                      {"attack_s", rounded(hold.attack_s, 1e6)},
                      {"release_s", rounded(hold.release_s, 1e6)},
                      {"broken_s", nullptr},
                      {"mean_cents", optional_json(mean_cents(hold))}};
  if (hold.broken) out["broken_s"] = {hold.broken->start_s, hold.broken->end_s};
  if (!with_curve) return out;
  out["curve_step_s"] = hold.curve_step_s;
  for (const double cents : hold.curve_cents) out["curve_cents"].push_back(rounded(cents, 1e4));
  return out;
}

ordered_json flute_json(const MadeTake& take) {
  return {{"serial", take.plan.serial},
          {"flute", take.plan.flute},
          {"played", take.plan.played},
          {"instrument", take.plan.draw.kind == Kind::recorder ? "recorder" : "whistle"},
          {"lowest", note_text(take.plan.draw.lowest_midi)},
          {"a4_hz", take.plan.draw.a4_hz},
          {"head_moves", take.plan.head_moves},
          {"head_out_mm", take.plan.head_out_mm}};
}

std::string slide_text(const MadeTake& take) {
  if (!take.compromise) return "the head stays";
  const double mm = take.compromise->slide_mm;
  if (mm == 0.0) return "leave it";
  return fmt::format("{} {:.2f} mm", mm > 0.0 ? "out" : "in", std::abs(mm));
}

}  // namespace

std::string truth_json(const MadeTake& take, std::uint64_t seed, bool with_curves) {
  ordered_json out = {{"schema", "windway.sample_truth.v1"}, {"invented", true}, {"seed", seed}};
  out.update(flute_json(take));
  out["slide_mm"] = take.compromise ? ordered_json(rounded(take.compromise->slide_mm, 100.0)) : ordered_json(nullptr);
  out["shift_cents"] =
      take.compromise ? ordered_json(rounded(take.compromise->shift_cents, 1e4)) : ordered_json(nullptr);
  out["home_a4_hz"] = rounded(take.home_a4_hz, 1e4);
  const Warming& warming = take.sound.warming;
  out["drift"] = {{"size_cents", warming.size_cents}, {"tau_s", warming.memory_s}, {"length_s", warming.length_s}};
  for (const TrueNote& note : take.notes) out["notes"].push_back(note_json(note));
  for (const TrueHold& hold : take.sound.holds) out["holds"].push_back(hold_json(hold, with_curves));
  return out.dump(with_curves ? -1 : 1) + "\n";
}

std::string truth_heading() {
  return "| take | flute | what was played | s | true move | home A4 |\n| --- | --- | --- | ---: | --- | ---: |\n";
}

std::string truth_row(const MadeTake& take) {
  const double duration_s = static_cast<double>(take.sound.samples.size()) / take.sound.rate_hz;
  return fmt::format("| `{}.flac` | {} {} | {} | {:.0f} | {} | {:.2f} Hz |\n", take.plan.name, take.plan.serial,
                     take.plan.flute, take.plan.played, duration_s, slide_text(take), take.home_a4_hz);
}

}  // namespace windway::samples
