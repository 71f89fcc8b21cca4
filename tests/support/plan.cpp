// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/plan.hpp"

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

}  // namespace windway::synthesis
