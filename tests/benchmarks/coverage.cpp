// SPDX-License-Identifier: GPL-3.0-or-later
// How honest the stated uncertainties are: takes drawn by lot, measured, and their 95 % intervals held against the
// truth, as a table by kind of take. The truth of moderate, spread, shift and slide is the flute's response to the
// strengths the player meant, not to what the blows came to; of a hold's frequency the mean of its own pitch curve. A
// second table counts what became of the blows: found, missed (not for half its length), split, wrong (60 cents off),
// and the holds found where nothing was blown. usage: windway_coverage [takes a kind = 112] [first seed = 1] [kind]
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "breath/breath.hpp"
#include "scale/range.hpp"
#include "slide/slide.hpp"
#include "support/drawn_holds.hpp"
#include "support/find_holds.hpp"
#include "support/played_takes.hpp"
#include "units/units.hpp"

namespace windway {
namespace {

using synthesis::PlayedTake;
using synthesis::TakeKind;
using synthesis::TrueHold;
using synthesis::TrueNote;

constexpr double speed_of_sound_m_s = 346.2677;  // as the truth has it: the law of the slide is not judged here
const std::array<const char*, 5> quantities = {"hold, cents", "moderate, cents", "spread, cents", "shift, cents",
                                               "slide, mm"};

/// The intervals of one quantity.
struct Tally {
  int count = 0;
  int inside = 0;
  double squares = 0;
  double u95_sum = 0;
  int absent = 0;  ///< there is a truth but no answer

  void add(double error, double u95) {
    ++count;
    inside += std::abs(error) <= u95;
    squares += error * error;
    u95_sum += u95;
  }
  void add(const Tally& other) {
    count += other.count;
    inside += other.inside;
    squares += other.squares;
    u95_sum += other.u95_sum;
    absent += other.absent;
  }
};

/// Tallies in the order of `quantities`.
using Tallies = std::array<Tally, quantities.size()>;

/// What became of the blows.
struct BlowCounts {
  int blown = 0, found = 0, missed = 0, split = 0, wrong = 0, invented = 0;

  void add(const BlowCounts& other) {
    blown += other.blown;
    found += other.found;
    missed += other.missed;
    split += other.split;
    wrong += other.wrong;
    invented += other.invented;
  }
};

struct Judgement {
  Tallies tallies;
  BlowCounts blows;

  void add(const Judgement& other) {
    for (std::size_t q = 0; q < quantities.size(); ++q) tallies[q].add(other.tallies[q]);
    blows.add(other.blows);
  }
};

struct Answer {
  Naming naming;
  BreathResult breath;
  std::optional<Compromise> compromise;
};

/// The steps of windway::measure, from samples in memory; the player has named kind and lowest note.
Answer measured(const PlayedTake& take) {
  InstrumentHint hint;
  hint.kind = take.flute.kind;
  const int lowest_midi = take.flute.notes.front().midi;
  hint.instrument = builtin_instrument(take.flute.kind, lowest_midi);
  const double a4_hz = take.flute.a4_hz;
  const PitchTrack track = track_pitch(take.sound.samples, take.sound.rate_hz, pitch_rules(hint, a4_hz));
  const std::vector<Hold> holds = in_range(find_holds(track, {}), hint, a4_hz);
  Answer answer;
  if (holds.empty()) return answer;
  answer.naming = name_holds(holds, hint, {a4_hz});
  answer.breath = measure_breath(answer.naming, {});
  if (!answer.breath.notes.empty())
    answer.compromise = find_compromise(answer.breath.notes, {}, a4_hz, speed_of_sound_m_s, answer.breath.repeat_db);
  return answer;
}

double overlap_s(const TrueHold& blown, const Hold& found) {
  return std::min(blown.end_s, found.end_s) - std::max(blown.start_s, found.start_s);
}

void judge_holds(const PlayedTake& take, const Answer& answer, Tally& tally) {
  for (const TrueHold& blown : take.sound.holds) {
    const NamedHold* match = nullptr;
    for (const NamedHold& h : answer.naming.holds)
      if (h.note.midi == blown.midi && overlap_s(blown, h.hold) >= 0.5 * (blown.end_s - blown.start_s)) match = &h;
    const auto truth = match ? mean_cents(blown, match->hold.steady_start_s, match->hold.steady_end_s) : std::nullopt;
    if (truth)
      tally.add(match->deviation_cents - *truth, match->hold.frequency_u95_cents);
    else
      ++tally.absent;
  }
}

BlowCounts count_blows(const PlayedTake& take, const Answer& answer) {
  std::vector<synthesis::DrawnHold> blown;
  for (const TrueHold& h : take.sound.holds) {
    const double target_hz = synthesis::target_hz(take.flute, h.midi);
    blown.push_back({h.start_s, h.end_s, hz_at_cents(target_hz, mean_cents(h).value_or(0.0)), h.broken, {}});
  }
  std::vector<Hold> holds;
  for (const NamedHold& h : answer.naming.holds) holds.push_back(h.hold);
  const synthesis::Verdicts verdicts = judge(blown, holds);
  BlowCounts counts;
  counts.invented = static_cast<int>(verdicts.invented.size());
  for (std::size_t i = 0; i < blown.size(); ++i) {
    const synthesis::Verdict& verdict = verdicts.holds[i];
    const bool lost = missed(blown[i], verdict);
    ++counts.blown;
    counts.wrong += verdict.gross();
    counts.missed += lost;
    counts.found += !lost && !verdict.gross();
    counts.split += !lost && !verdict.gross() && verdict.pieces > 1;
  }
  return counts;
}

void judge_notes(const std::vector<TrueNote>& truth, const BreathResult& breath, Tallies& tallies) {
  for (const TrueNote& note : truth) {
    const auto found = std::find_if(breath.notes.begin(), breath.notes.end(),
                                    [&](const NoteBreath& n) { return n.id.midi == note.midi; });
    if (found == breath.notes.end()) {
      ++tallies[1].absent;
      tallies[2].absent += note.spread_cents.has_value();
      continue;
    }
    tallies[1].add(found->moderate.cents - note.moderate_cents, found->moderate.u95_cents);
    if (!note.spread_cents) continue;
    if (found->spread)
      tallies[2].add(found->spread->cents - *note.spread_cents, found->spread->u95_cents);
    else
      ++tallies[2].absent;
  }
}

/// The least cost's place between the hundredths of a millimetre: the bottom of the parabola through three of them.
double true_slide_mm(const std::vector<TrueNote>& truth) {
  constexpr double step_mm = 0.01;
  const double mm = synthesis::least_cost(truth).slide_mm;
  const double below = mean_cost(truth, mm - step_mm, 0.0), here = mean_cost(truth, mm, 0.0),
               above = mean_cost(truth, mm + step_mm, 0.0);
  const double bend = above - 2.0 * here + below;
  return bend > 0 ? mm + 0.5 * step_mm * (below - above) / bend : mm;
}

double mean_shift_cents(const std::vector<TrueNote>& truth, double slide_mm) {
  double sum = 0;
  for (const TrueNote& note : truth) {
    const double hz = hz_at_cents(note.target_hz, note.moderate_cents);
    sum += synthesis::slide_cents(synthesis::effective_length_mm(note.register_number, hz), slide_mm);
  }
  return sum / static_cast<double>(truth.size());
}

void judge_compromise(const std::vector<TrueNote>& truth, const Answer& answer, Tallies& tallies) {
  if (!answer.compromise || answer.breath.notes.size() != truth.size()) {
    ++tallies[3].absent;
    ++tallies[4].absent;
    return;
  }
  const double slide_mm = true_slide_mm(truth);
  tallies[3].add(answer.compromise->shift_cents - mean_shift_cents(truth, slide_mm),
                 answer.compromise->shift_u95_cents);
  tallies[4].add(answer.compromise->slide_mm - slide_mm, answer.compromise->slide_u95_mm);
}

Judgement judge_take(const PlayedTake& take) {
  const Answer answer = measured(take);
  const auto reference_s = answer.breath.drift ? answer.breath.drift->reference_time_s : std::nullopt;
  const std::vector<TrueNote> truth = response_at(take, reference_s);
  Judgement judgement;
  judge_holds(take, answer, judgement.tallies[0]);
  judge_notes(truth, answer.breath, judgement.tallies);
  judge_compromise(truth, answer, judgement.tallies);
  judgement.blows = count_blows(take, answer);
  return judgement;
}

void print_rows(const std::string& kind, const Tallies& tallies) {
  for (std::size_t q = 0; q < quantities.size(); ++q) {
    const Tally& t = tallies[q];
    if (t.count + t.absent == 0) continue;
    if (t.count == 0) {
      std::printf("| %s | %s | 0 | - | - | - | %d |\n", kind.c_str(), quantities[q], t.absent);
      continue;
    }
    std::printf("| %s | %s | %d | %.1f | %.3f | %.3f | %d |\n", kind.c_str(), quantities[q], t.count,
                100.0 * t.inside / t.count, std::sqrt(t.squares / t.count), t.u95_sum / t.count, t.absent);
  }
  std::fflush(stdout);
}

void print_blows(const std::map<TakeKind, Judgement>& of_kind) {
  std::printf("\n| takes | blown | found | missed | split | wrong | invented |\n|---|---|---|---|---|---|---|\n");
  for (const auto& [kind, judgement] : of_kind) {
    const BlowCounts& b = judgement.blows;
    std::printf("| %s | %d | %d | %d | %d | %d | %d |\n", synthesis::kind_name(kind).c_str(), b.blown, b.found,
                b.missed, b.split, b.wrong, b.invented);
  }
}

void print_tables(int takes, std::uint64_t first_seed, const std::string& only) {
  std::printf(
      "| takes | quantity | n | in u95 %% | RMS error | mean u95 | no answer |\n|---|---|---|---|---|---|---|\n");
  std::map<TakeKind, Judgement> of_kind;
  Judgement usual;
  for (const TakeKind kind : synthesis::take_kinds()) {
    if (!only.empty() && only != synthesis::kind_name(kind)) continue;
    for (int i = 0; i < takes; ++i)
      of_kind[kind].add(judge_take(synthesis::play_take(kind, first_seed + static_cast<std::uint64_t>(i))));
    print_rows(synthesis::kind_name(kind), of_kind[kind].tallies);
    if (kind < TakeKind::levelled) usual.add(of_kind[kind]);
  }
  if (only.empty()) print_rows("the first six kinds", usual.tallies);
  print_blows(of_kind);
}

}  // namespace
}  // namespace windway

int main(int argc, char** argv) {
  const int takes = argc > 1 ? std::atoi(argv[1]) : 112;
  const std::uint64_t first_seed = argc > 2 ? std::strtoull(argv[2], nullptr, 10) : 1;
  windway::print_tables(std::max(takes, 1), first_seed, argc > 3 ? argv[3] : "");
  return 0;
}
