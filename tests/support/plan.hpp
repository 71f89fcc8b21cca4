// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "support/blow.hpp"

namespace windway::synthesis {

/// How strong this player's soft and hard are, in doublings of the pressure; moderate is 0.
struct Strengths {
  double soft = -1.2;
  double hard = 1.0;
};

/// From one number up to another.
struct Range {
  double low = 0.0;
  double high = 0.0;
};

/// How long blows and the silences after them last; each drawn evenly between its two ends.
struct Timing {
  Span hold_s{0.7, 0.9};
  Span gap_s{0.15, 0.25};
};

/// The major scale upwards from `lowest_midi` as far as `semitones` above it.
std::vector<int> major_scale(int lowest_midi, int semitones);
/// Up, then down again, the top note twice.
std::vector<int> there_and_back(const std::vector<int>& notes);

/// Every note in turn: each blow of `blows` one after the other.
std::vector<Blowing> note_by_note(const std::vector<int>& notes, const std::vector<Blow>& blows,
                                  const Strengths& strengths, const Timing& timing, Random& random);
/// The whole scale at one blow, then the whole scale at the next.
std::vector<Blowing> round_by_round(const std::vector<int>& notes, const std::vector<Blow>& blows,
                                    const Strengths& strengths, const Timing& timing, Random& random);

/// Every note in turn, four strengths each in an order by lot: soft, hard, and two between them, both meant moderate.
std::vector<Blowing> four_strengths(const std::vector<int>& notes, const Strengths& strengths, const Timing& timing,
                                    Random& random);
/// Every note once, moderately; one or two of them again at once, softer by between the two ends of `softer_doublings`.
std::vector<Blowing> once_and_again(const std::vector<int>& notes, Range softer_doublings, const Timing& timing,
                                    Random& random);

}  // namespace windway::synthesis
