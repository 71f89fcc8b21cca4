// SPDX-License-Identifier: GPL-3.0-or-later
// Draws holds at random, hard ones among them, and counts those heard in the wrong octave or semitone, missed, split or
// invented. usage: windway_gross_errors [HOLDS [FIRST_SEED]]; exit status 1 if one was wrong or invented.
#include <cstdio>
#include <cstdlib>
#include <functional>
#include <string>
#include <vector>

#include "pitch/pitch_track.hpp"
#include "support/drawn_holds.hpp"
#include "support/find_holds.hpp"
#include "units/units.hpp"

namespace {

using namespace windway;
using namespace windway::synthesis;

constexpr int holds_a_take = 20;

struct Count {
  const char* name;
  std::function<bool(const DrawnTake&, const DrawnHold&)> counts;
  int holds = 0, gross = 0, missed = 0, split = 0;
};

std::vector<Count> kinds() {
  const auto strong = [](int n) {
    return [n](const DrawnTake&, const DrawnHold& h) { return h.hardship.strong_harmonics == n; };
  };
  const auto rate = [](double hz) { return [hz](const DrawnTake& t, const DrawnHold&) { return t.rate_hz == hz; }; };
  const auto compass = [](const char* name) {
    return [name](const DrawnTake& t, const DrawnHold&) { return t.compass == name; };
  };
  return {{"all", [](const DrawnTake&, const DrawnHold&) { return true; }},
          {"no strong harmonic", strong(0)},
          {"one strong harmonic", strong(1)},
          {"two strong harmonics", strong(2)},
          {"overblown", [](const DrawnTake&, const DrawnHold& h) { return h.hardship.overblown; }},
          {"breath 8 to 14 dB under", [](const DrawnTake&, const DrawnHold& h) { return h.hardship.breath_db < 14.0; }},
          {"slips into the octave", [](const DrawnTake&, const DrawnHold& h) { return h.slip.has_value(); }},
          {"room", [](const DrawnTake& t, const DrawnHold&) { return t.room; }},
          {"48 or 16 kHz", rate(16000.0)},
          {"44.1 kHz", rate(14700.0)},
          {"8 kHz", rate(8000.0)},
          {"low whistle", compass("low whistle")},
          {"garklein", compass("garklein")}};
}

void print_failure(std::uint64_t seed, const DrawnTake& take, std::size_t index, const Verdict& verdict) {
  const DrawnHold& h = take.holds[index];
  const char* what = verdict.gross() ? "wrong" : verdict.pieces > 1 && !missed(h, verdict) ? "split" : "missed";
  std::printf(
      "%s: seed %llu hold %zu at %.2f to %.2f s, %.1f Hz, off %.0f cents, %.2f s found in %d, %d strong, %s%s"
      "breath %.1f dB, %.0f Hz%s, %s\n",
      what, static_cast<unsigned long long>(seed), index, h.start_s, h.end_s, h.hz, verdict.worst_cents,
      verdict.found_s, verdict.pieces, h.hardship.strong_harmonics, h.hardship.overblown ? "overblown, " : "",
      h.slip ? "slips, " : "", h.hardship.breath_db, take.rate_hz, take.room ? ", room" : "", take.compass.c_str());
}

int count_take(std::uint64_t seed, std::vector<Count>& counts) {
  const DrawnTake take = draw_take(seed, holds_a_take);
  const Verdicts verdicts = judge(take, find_holds(track_pitch(take.samples, take.rate_hz, {}), {}));
  for (std::size_t i = 0; i < take.holds.size(); ++i) {
    const Verdict& verdict = verdicts.holds[i];
    const bool lost = missed(take.holds[i], verdict);
    const bool split = verdict.pieces > 1 && !lost && !verdict.gross();
    if (verdict.gross() || lost || split) print_failure(seed, take, i, verdict);
    for (Count& count : counts) {
      if (!count.counts(take, take.holds[i])) continue;
      ++count.holds;
      count.gross += verdict.gross();
      count.missed += lost;
      count.split += split;
    }
  }
  for (const Hold& hold : verdicts.invented) {
    std::printf("invented: seed %llu at %.2f to %.2f s, %.1f Hz\n", static_cast<unsigned long long>(seed), hold.start_s,
                hold.end_s, hold.frequency_hz);
  }
  return static_cast<int>(verdicts.invented.size());
}

}  // namespace

int main(int argc, char** argv) {
  const int holds = argc > 1 ? std::atoi(argv[1]) : 10000;
  const std::uint64_t first_seed = argc > 2 ? std::strtoull(argv[2], nullptr, 10) : 1;
  std::vector<Count> counts = kinds();
  int invented = 0;
  for (int take = 0; take < holds / holds_a_take; ++take) {
    invented += count_take(first_seed + static_cast<std::uint64_t>(take), counts);
  }
  std::printf("\n%-24s %6s %6s %6s %6s\n", "", "holds", "wrong", "missed", "split");
  for (const Count& c : counts) std::printf("%-24s %6d %6d %6d %6d\n", c.name, c.holds, c.gross, c.missed, c.split);
  std::printf("invented: %d\n", invented);
  return invented > 0 || counts.front().gross > 0 ? 1 : 0;
}
