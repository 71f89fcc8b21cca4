// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "measurement.hpp"

namespace windway {

/// What a note did from one take to the next, cents, + sharper; all at moderate breath. A move of the head and a change
/// of the bore's temperature that were said are allowed for.
struct SteppedNote {
  NoteId note;
  CentsEstimate change;
  bool is_real = false;   ///< more than its u95, which both takes' u95 are in
  CentsEstimate apart;    ///< less the change of all notes together
  bool is_apart = false;  ///< more than what chance shows on any of the notes, 19 times in 20
};

/// From one take to the next.
struct TakeStep {
  std::size_t before = 0;  ///< index into the takes
  std::size_t after = 0;
  std::optional<double> drawn_out_mm;  ///< what the head was moved between them, + out; absent: not known of both
  CentsEstimate together;              ///< mean change, all notes alike
  std::vector<SteppedNote> notes;      ///< those in both takes, ascending
};

/// How well the takes agree, as far as nothing was changed on the flute between them.
struct DayAgreement {
  double note_sd_cents = 0;      ///< of one note of one take, from what all notes did together
  double note_u95_cents = 0;     ///< u95 of a note of one take, all but the common change
  double together_sd_cents = 0;  ///< of what all notes of one take have in common
};

/// One result of the flute: a saved one, or a recording that was measured.
struct FluteResult {
  std::string name;  ///< as it was given
  Measurement measurement;
};

/// The results of one flute in order, and what changed from each to the next.
struct TakeHistory {
  std::vector<FluteResult> takes;
  bool is_by_time = false;                ///< else as they were given: not all say when they were recorded
  std::vector<TakeStep> steps;            ///< one less than takes
  std::optional<DayAgreement> agreement;  ///< absent: no two takes share two notes
};

/// When a measurement's takes were recorded: the first of them; absent where one of them does not say.
std::optional<std::string> recorded_at(const Measurement& measurement);

/// Orders the takes by the time of recording where all say it well enough to be told apart, else leaves them as given.
/// The agreement is from successive differences (J. von Neumann et al., Ann. Math. Statist. 12 (1941) 153, from
/// memory), so that a slow change does not count in full. Throws Error where they are of different instruments (kind
/// usage), or where no note is in two successive takes (kind recording). `takes` must not be empty.
TakeHistory take_history(std::vector<FluteResult> takes);

}  // namespace windway
