// SPDX-License-Identifier: GPL-3.0-or-later
// Takes on hard ground (wide_takes.hpp), written to a file, read and measured as the program does, and held against
// the truth: a table of the holds' frequencies and one of the notes and warnings, by kind of take.
// usage: windway_wider_ground [takes a kind = 24 [first seed = 1 [kind]]]; with a kind, every failure is told on stderr
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "analysis.hpp"
#include "error.hpp"
#include "support/wide_takes.hpp"
#include "units/order_statistics.hpp"
#include "units/units.hpp"

namespace windway {
namespace {

using synthesis::PlayedTake;
using synthesis::TrueHold;
using synthesis::TrueNote;
using synthesis::WideKind;
using synthesis::WideTake;

constexpr double gross_cents = 50.0;

/// Errors of one quantity, in cents, and how many lie within what was stated.
struct Errors {
  std::vector<double> sizes_cents;
  double u95_sum_cents = 0;
  int inside = 0;
  int absent = 0;

  void add(double error_cents, double u95_cents) {
    sizes_cents.push_back(std::abs(error_cents));
    u95_sum_cents += u95_cents;
    inside += std::abs(error_cents) <= u95_cents;
  }
  double rms_cents() const {
    double sum = 0;
    for (const double e : sizes_cents) sum += e * e;
    return std::sqrt(sum / static_cast<double>(sizes_cents.size()));
  }
  double p95_cents() const {
    std::vector<double> sorted = sizes_cents;
    std::ranges::sort(sorted);
    return sorted[(sorted.size() - 1) * 95 / 100];
  }
  double inside_percent() const { return 100.0 * inside / static_cast<double>(sizes_cents.size()); }
};

struct Tally {
  int takes = 0, refused = 0, warned = 0;
  int played = 0, found = 0, missed = 0, invented = 0, gross = 0;
  int silently_wrong = 0;  ///< takes without a warning in which a hold is gross or invented, or a note 10 cents off
  Errors holds, moderate, spread;
  std::map<WarningCode, int> codes;  ///< takes that carried each
};

struct Told {
  bool on = false;
  std::uint64_t seed = 0;

  void failure(const char* what, double start_s, double end_s, double hz, double off) const {
    if (!on) return;
    std::fprintf(stderr, "seed %llu: %s at %.2f to %.2f s, %.1f Hz, off %.2f cents\n",
                 static_cast<unsigned long long>(seed), what, start_s, end_s, hz, off);
  }
};

double overlap_s(const TrueHold& blown, const Hold& found) {
  return std::min(blown.end_s, found.end_s) - std::max(blown.start_s, found.start_s);
}

void shift(Hold& hold, double by_s) {
  for (double* time_s : {&hold.start_s, &hold.end_s, &hold.steady_start_s, &hold.steady_end_s}) *time_s += by_s;
}

double blown_hz(const PlayedTake& take, const TrueHold& blown, double cents) {
  return hz_at_cents(synthesis::target_hz(take.flute, blown.midi), cents);
}

/// Length of each blow that stands in holds of the right pitch.
using FoundLengths = std::vector<double>;

void judge_hold(const PlayedTake& take, const Hold& hold, FoundLengths& found_s, Tally& tally, const Told& told) {
  const auto& blows = take.sound.holds;
  const auto blown = std::ranges::max_element(blows, {}, [&](const TrueHold& b) { return overlap_s(b, hold); });
  if (overlap_s(*blown, hold) < 0.5 * (hold.end_s - hold.start_s)) {
    ++tally.invented;
    return told.failure("invented", hold.start_s, hold.end_s, hold.frequency_hz, 0.0);
  }
  const auto truth = mean_cents(*blown, hold.steady_start_s, hold.steady_end_s);
  if (!truth) return;
  const double error_cents = cents_between(blown_hz(take, *blown, *truth), hold.frequency_hz);
  ++tally.found;
  if (std::abs(error_cents) > gross_cents) {
    ++tally.gross;
    return told.failure("gross", hold.start_s, hold.end_s, hold.frequency_hz, error_cents);
  }
  found_s[static_cast<std::size_t>(blown - blows.begin())] += overlap_s(*blown, hold);
  tally.holds.add(error_cents, hold.frequency_u95_cents);
  if (std::abs(error_cents) > 3.0 * hold.frequency_u95_cents && std::abs(error_cents) > 0.5)
    told.failure("far beyond u95", hold.start_s, hold.end_s, hold.frequency_hz, error_cents);
}

void judge_holds(const PlayedTake& take, const std::vector<NamedHold>& found, Tally& tally, const Told& told) {
  FoundLengths found_s(take.sound.holds.size(), 0.0);
  for (const NamedHold& h : found) judge_hold(take, h.hold, found_s, tally, told);
  for (std::size_t i = 0; i < found_s.size(); ++i) {
    const TrueHold& blown = take.sound.holds[i];
    const double steady_s = blown.end_s - blown.release_s - blown.start_s - blown.attack_s;
    ++tally.played;
    if (found_s[i] >= 0.5 * steady_s) continue;
    ++tally.missed;
    told.failure("missed", blown.start_s, blown.end_s, blown_hz(take, blown, 0.0), 0.0);
  }
}

/// Whether a note came out more than 10 cents from the flute's response and beyond what was stated.
bool judge_notes(const PlayedTake& take, const BreathResult& breath, Tally& tally) {
  constexpr double wrong_cents = 10.0;
  const auto reference_s = breath.drift ? breath.drift->reference_time_s : std::nullopt;
  bool wrong = false;
  for (const TrueNote& note : response_at(take, reference_s)) {
    const auto found = std::ranges::find(breath.notes, NoteId{note.midi}, &NoteBreath::id);
    tally.moderate.absent += found == breath.notes.end();
    tally.spread.absent += found == breath.notes.end() || !found->spread;
    if (found == breath.notes.end()) continue;
    const auto judge = [&](Errors& errors, const auto& estimate, double truth_cents) {
      const double error_cents = estimate.cents - truth_cents;
      errors.add(error_cents, estimate.u95_cents);
      wrong |= std::abs(error_cents) > std::max(wrong_cents, estimate.u95_cents);
    };
    judge(tally.moderate, found->moderate, note.moderate_cents);
    if (found->spread) judge(tally.spread, *found->spread, *note.spread_cents);
  }
  return wrong;
}

MeasureSettings settings_of(const PlayedTake& take) {
  MeasureSettings settings;
  settings.tuning.a4_hz = take.flute.a4_hz;
  settings.head.out_mm = 15.0;  // told, or every take would ask for it
  settings.instrument.kind = take.flute.kind;
  settings.instrument.instrument = builtin_instrument(take.flute.kind, take.flute.notes.front().midi);
  return settings;
}

void judge_take(const WideTake& take, const std::string& path, Tally& tally, const Told& told) {
  ++tally.takes;
  const double delay_s = write_take(take, path);
  Measurement found;
  try {
    found = measure({path}, settings_of(take.played));
  } catch (const Error& error) {
    ++tally.refused;
    if (told.on)
      std::fprintf(stderr, "seed %llu: refused: %s\n", static_cast<unsigned long long>(told.seed), error.what());
    return;
  }
  for (NamedHold& h : found.naming.holds) shift(h.hold, -delay_s);
  if (found.breath.drift && found.breath.drift->reference_time_s) *found.breath.drift->reference_time_s -= delay_s;
  const int bad_before = tally.gross + tally.invented;
  judge_holds(take.played, found.naming.holds, tally, told);
  bool wrong = tally.gross + tally.invented > bad_before;
  if (take.notes_told) wrong |= judge_notes(take.played, found.breath, tally);
  std::map<WarningCode, int> codes;
  for (const Warning& warning : found.warnings) codes[warning.code] = 1;
  for (const auto& [code, once] : codes) tally.codes[code] += once;
  tally.warned += !codes.empty();
  tally.silently_wrong += wrong && codes.empty();
  if (wrong && codes.empty() && told.on)
    std::fprintf(stderr, "seed %llu: wrong without a warning\n", static_cast<unsigned long long>(told.seed));
}

Tally judge_kind(WideKind kind, int takes, std::uint64_t first_seed, bool tell) {
  Tally tally;
  const auto folder = std::filesystem::temp_directory_path();
  for (int i = 0; i < takes; ++i) {
    const std::uint64_t seed = first_seed + static_cast<std::uint64_t>(i);
    const WideTake take = synthesis::play_wide_take(kind, seed);
    const auto path = folder / ("windway_wider_ground_" + std::to_string(getpid()) + take.ending);
    judge_take(take, path.string(), tally, {tell, seed});
    std::filesystem::remove(path);
  }
  return tally;
}

void print_errors(const Errors& errors, bool with_absent) {
  if (errors.sizes_cents.empty())
    std::printf(" | - | - | - | -");
  else
    std::printf(" | %.3f | %.3f | %.3f | %.1f", errors.rms_cents(), errors.p95_cents(),
                errors.u95_sum_cents / static_cast<double>(errors.sizes_cents.size()), errors.inside_percent());
  if (with_absent) std::printf(" | %d", errors.absent);
}

void print_holds(const std::map<WideKind, Tally>& tallies) {
  std::printf(
      "| takes | blown | found | missed | invented | gross | RMS, cents | p95, cents | mean u95 | in u95 %% |\n"
      "|---|---|---|---|---|---|---|---|---|---|\n");
  for (const auto& [kind, t] : tallies) {
    std::printf("| %s | %d | %d | %d | %d | %d", kind_name(kind).c_str(), t.played, t.found, t.missed, t.invented,
                t.gross);
    print_errors(t.holds, false);
    std::printf(" |\n");
  }
}

void print_notes(const std::map<WideKind, Tally>& tallies) {
  std::printf(
      "\n| takes | moderate RMS | p95 | mean u95 | in u95 %% | none | spread RMS | p95 | mean u95 | in u95 %% | none | "
      "takes | refused | "
      "warned | wrong without warning | warnings (takes) "
      "|\n|---|---|---|---|---|---|---|---|---|---|---|---|---|---|---|---|\n");
  for (const auto& [kind, t] : tallies) {
    std::printf("| %s", kind_name(kind).c_str());
    print_errors(t.moderate, true);
    print_errors(t.spread, true);
    std::printf(" | %d | %d | %d | %d |", t.takes, t.refused, t.warned, t.silently_wrong);
    for (const auto& [code, takes] : t.codes) std::printf(" %s %d", text_of(code).data(), takes);
    std::printf(" |\n");
  }
}

}  // namespace
}  // namespace windway

int main(int argc, char** argv) {
  using namespace windway;
  const int takes = argc > 1 ? std::max(std::atoi(argv[1]), 1) : 24;
  const std::uint64_t first_seed = argc > 2 ? std::strtoull(argv[2], nullptr, 10) : 1;
  const std::string only = argc > 3 ? argv[3] : "";
  std::map<WideKind, Tally> tallies;
  for (const WideKind kind : synthesis::wide_kinds()) {
    if (only.empty() || only == kind_name(kind)) tallies[kind] = judge_kind(kind, takes, first_seed, !only.empty());
  }
  print_holds(tallies);
  print_notes(tallies);
  return 0;
}
