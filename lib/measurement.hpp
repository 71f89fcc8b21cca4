// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "agreement/head_places.hpp"
#include "agreement/take_agreement.hpp"
#include "breath/as_asked.hpp"
#include "breath/breath.hpp"
#include "holds/headroom.hpp"
#include "holds/holds.hpp"
#include "recording/recording.hpp"
#include "scale/naming.hpp"
#include "slide/air.hpp"
#include "slide/slide.hpp"
#include "warning.hpp"

namespace windway {

struct MeasureSettings {
  Tuning tuning;                    ///< of the targets
  std::optional<double> a4_u95_hz;  ///< where A4 was heard from a recorded partner
  Air air;
  std::optional<double> quote_at_c;  ///< the notes as they would be with the bore at this temperature
  HoldRules hold_rules;
  InstrumentHint instrument;
  BlowHint blows;
  Head head;
  std::vector<double> head_out_mm_of_takes;  ///< where the head stood for each take; empty: where `head` says
  std::vector<NoteWeight> weights;           ///< by the share of playing time; empty: as the instrument has them
  NoteNames note_names = NoteNames::english;
  Digest digest = Digest::taken;  ///< of each take
};

/// The air that the notes are given for.
inline Air quoted_air(const MeasureSettings& settings) {
  Air air = settings.air;
  air.temperature_c = settings.quote_at_c.value_or(air.temperature_c);
  return air;
}

/// Everything one run of `measure` found; the reports write it out.
struct Measurement {
  MeasureSettings settings;       ///< as used
  double speed_of_sound_m_s = 0;  ///< in the bore, at the temperature that the notes are given for
  std::vector<TakeInfo> takes;
  std::vector<PowerCurve> loudness;        ///< of each take, a point each 50 ms; empty: a result saved without curves
  std::vector<LeftOut> left_out;           ///< what was blown and is no hold, by take and time
  Naming naming;                           ///< instrument and every hold with its note
  BreathResult breath;                     ///< blow and use of every hold; the notes
  std::optional<HeadPlaces> places;        ///< where the head stood at several; the notes are told for one of them
  std::optional<TakeAgreement> agreement;  ///< of several takes
  std::optional<Compromise> compromise;
  Warnings warnings;                   ///< of all stages, in the data's order
  std::vector<std::string> arguments;  ///< of the call that measured it, after the program's name; empty: not known
};

}  // namespace windway
