// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>
#include <vector>

#include "breath/blow_means.hpp"
#include "breath/loudness.hpp"
#include "breath/swell.hpp"

namespace windway {

/// All that is known of the holds when the notes are put together.
struct Witnesses {
  std::vector<HoldPitch> pitch;                ///< by hold
  std::map<std::size_t, SwellResponse> swell;  ///< by hold, swells only
  double swell_scatter_way = 0;                ///< SD of a swell's ends about what was meant, share of its way
  Loudness loudness;
  bool blows_told = false;              ///< some hold has a soft, moderate or hard blow
  bool drift_told = false;              ///< repeats tell the drift: then warming cannot pass for breath
  double coverage = normal_u95_factor;  ///< standard deviations in a u95
};

/// One note, and what must be said about it.
struct NoteAnswer {
  NoteBreath note;
  bool spread_missing = false;
  bool blows_contradict = false;    ///< what was called hard is surely flatter than what was called soft
  bool warming_could_pass = false;  ///< soft and hard lie so far apart in time that warming could pass for breath
  bool moderate_missing = false;    ///< blown soft only, or hard only, or nobody knows how hard
};

/// The notes of the scale, ascending, each from its used holds. Reach is not filled in.
std::vector<NoteAnswer> answer_notes(const Naming& naming, const Blows& blows, const Witnesses& witnesses);

/// The same with each note's reach: its bend from moderate to the median soft and hard strengths of all notes, through
/// its own response, straight between its own blows; where levels do not tell, its own soft and hard.
std::vector<NoteAnswer> with_reach(std::vector<NoteAnswer> answers, const Loudness& loudness);

}  // namespace windway
