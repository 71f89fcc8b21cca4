// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/plan.hpp"

#include <algorithm>
#include <array>

namespace windway::synthesis {
namespace {

double doublings(Blow blow, const Strengths& strengths) {
  if (blow == Blow::soft) return strengths.soft;
  if (blow == Blow::hard) return strengths.hard;
  return 0.0;
}

Blowing planned(int midi, Blow blow, const Strengths& strengths, const Timing& timing, Random& random) {
  Blowing out;
  out.midi = midi;
  out.blow = blow;
  const bool swell = blow == Blow::swell;
  out.from_doublings = swell ? strengths.soft : doublings(blow, strengths);
  out.to_doublings = swell ? strengths.hard : out.from_doublings;
  out.duration_s = random.uniform(timing.hold_s.start_s, timing.hold_s.end_s);
  out.gap_s = random.uniform(timing.gap_s.start_s, timing.gap_s.end_s);
  return out;
}

}  // namespace

std::vector<int> major_scale(int lowest_midi, int semitones) {
  constexpr std::array<int, 7> steps = {0, 2, 4, 5, 7, 9, 11};
  std::vector<int> notes;
  for (int octave = 0;; octave += 12) {
    for (const int step : steps) {
      if (octave + step > semitones) return notes;
      notes.push_back(lowest_midi + octave + step);
    }
  }
}

std::vector<int> there_and_back(const std::vector<int>& notes) {
  std::vector<int> out = notes;
  out.insert(out.end(), notes.rbegin(), notes.rend());
  return out;
}

std::vector<Blowing> note_by_note(const std::vector<int>& notes, const std::vector<Blow>& blows,
                                  const Strengths& strengths, const Timing& timing, Random& random) {
  std::vector<Blowing> out;
  for (const int midi : notes) {
    for (const Blow blow : blows) out.push_back(planned(midi, blow, strengths, timing, random));
  }
  return out;
}

std::vector<Blowing> round_by_round(const std::vector<int>& notes, const std::vector<Blow>& blows,
                                    const Strengths& strengths, const Timing& timing, Random& random) {
  std::vector<Blowing> out;
  for (const Blow blow : blows) {
    for (const int midi : notes) out.push_back(planned(midi, blow, strengths, timing, random));
  }
  return out;
}

std::vector<Blowing> four_strengths(const std::vector<int>& notes, const Strengths& strengths, const Timing& timing,
                                    Random& random) {
  constexpr double between = 0.35;  // of the way from moderate to soft or hard
  std::vector<Blowing> out;
  for (const int midi : notes) {
    std::vector<std::size_t> order = {0, 1, 2, 3};
    random.shuffle(order);
    for (const std::size_t i : order) {
      const std::array blows = {Blow::soft, Blow::moderate, Blow::moderate, Blow::hard};
      const std::array at = {strengths.soft, between * strengths.soft, between * strengths.hard, strengths.hard};
      out.push_back(planned(midi, blows[i], strengths, timing, random));
      out.back().from_doublings = out.back().to_doublings = at[i];
    }
  }
  return out;
}

std::vector<Blowing> once_and_again(const std::vector<int>& notes, Range softer_doublings, const Timing& timing,
                                    Random& random) {
  std::vector<int> repeated = notes;
  random.shuffle(repeated);
  repeated.resize(1 + random.index(2));
  std::vector<Blowing> out;
  for (const int midi : notes) {
    out.push_back(planned(midi, Blow::moderate, {}, timing, random));
    if (std::ranges::find(repeated, midi) == repeated.end()) continue;
    out.push_back(planned(midi, Blow::moderate, {}, timing, random));
    out.back().from_doublings -= random.uniform(softer_doublings.low, softer_doublings.high);
    out.back().to_doublings = out.back().from_doublings;
  }
  return out;
}

}  // namespace windway::synthesis
