// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "breath/breath.hpp"
#include "holds/holds.hpp"
#include "recording/recording.hpp"
#include "scale/naming.hpp"
#include "slide/air.hpp"
#include "slide/slide.hpp"
#include "warning.hpp"

namespace windway {

struct MeasureSettings {
  double a4_hz = 440.0;  ///< ISO 16
  Air air;
  HoldRules hold_rules;
  InstrumentHint instrument;
  BlowHint blows;
  Head head;
  NoteNames note_names = NoteNames::english;
};

/// Everything one run of `measure` found; the reports write it out.
struct Measurement {
  MeasureSettings settings;  ///< as used
  double speed_of_sound_m_s = 0;
  std::vector<TakeInfo> takes;
  Naming naming;        ///< instrument and every hold with its note
  BreathResult breath;  ///< blow and use of every hold; the notes
  std::optional<Compromise> compromise;
  Warnings warnings;  ///< of all stages, in the data's order
};

}  // namespace windway
